import pytest
from django.apps import apps

from coop.models import Climate, Cooperative, Place, Species
from coop.models.ownership import OwnedManager
from tests.house.ownership import allowed_for_nothing, reached_past_the_door
from tests.house.tree import ROOT, plant

# What belongs to nobody, and the cooperatives themselves.
SHARED = {Climate, Cooperative, Place, Species}
TABLES = {model for model in apps.get_app_config("coop").get_models()}
OWNED = {model.__name__ for model in TABLES - SHARED}


@pytest.mark.parametrize("model", sorted(TABLES - SHARED, key=lambda model: model.__name__))
def test_every_table_says_the_way_to_its_cooperative(model):
    assert isinstance(model._default_manager, OwnedManager)
    field = model
    for name in model.owned_through.split("__"):
        field = field._meta.get_field(name).related_model
    assert field is Cooperative


def test_rows_of_a_cooperative_are_reached_through_the_one_door():
    assert reached_past_the_door(ROOT, OWNED) == []


def test_no_exception_stands_in_the_list_for_nothing():
    assert allowed_for_nothing(ROOT, OWNED) == []


@pytest.mark.parametrize(
    "line",
    [
        "Lot.objects.all()",
        "Lot.objects.filter(cooperative=cooperative)",
        "models.Lot.objects.get(pk=3)",
        "Lot._default_manager.first()",
        "manager = Lot.objects\n    return manager.all()",
        "get(Lot.objects)",
    ],
)
def test_a_way_around_is_found(tmp_path, line):
    plant(tmp_path, "coop/services/lots.py", f"def lots():\n    {line}\n")
    assert reached_past_the_door(tmp_path, {"Lot"}) == ["coop/services/lots.py:2 lots"]


@pytest.mark.parametrize(
    "line", ["Lot.objects.of(cooperative).get(pk=3)", "parcel.lots.all()", "Place.objects.all()"]
)
def test_the_door_and_what_is_owned_already_are_let_through(tmp_path, line):
    plant(tmp_path, "coop/services/lots.py", f"def lots():\n    {line}\n")
    assert reached_past_the_door(tmp_path, {"Lot"}) == []


def test_an_exception_is_for_one_function_and_not_for_its_file(tmp_path):
    text = (
        "def token_of():\n    PhoneToken.objects.first()\n\n\ndef others():\n    PhoneToken.objects.all()\n"
    )
    plant(tmp_path, "coop/selectors/phones.py", text)
    assert reached_past_the_door(tmp_path, {"PhoneToken"}) == ["coop/selectors/phones.py:6 others"]
