"""The demonstration is loaded once, whole or not at all, and never over what people changed."""

import json
from shutil import copyfile

import pytest
from django.apps import apps
from django.conf import settings
from django.core.serializers.base import DeserializationError

from coop.models import Cooperative, Member, Place, Timetable
from coop.selectors.cooperatives import demo_cooperative
from coop.services import demo
from coop.services.demo import FIXTURES, fixture_path, load_demo
from tests.factories.places import PlaceFactory
from tests.factories.timetables import TimetableFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def nothing_on_the_road(monkeypatch):
    """The tables alone: what is on the road takes seconds, and has tests of its own."""
    monkeypatch.setattr(demo, "fill_demo", lambda cooperative, now: 0)
    monkeypatch.setattr(demo, "fill_quotes", lambda cooperative, now: 0)


@pytest.mark.usefixtures("nothing_on_the_road")
def test_a_second_load_changes_nothing_that_people_changed():
    assert load_demo() > 200
    Member.objects.filter(name__startswith="Agness").update(phone="097 1")
    Timetable.objects.filter(leaves_when_full=True).delete()
    Place.objects.filter(code="mpika").update(altitude_m=1402)
    before = {model: model.objects.count() for model in apps.get_app_config("coop").get_models()}
    assert load_demo() == 0
    assert {model: model.objects.count() for model in before} == before
    assert Member.objects.get(name__startswith="Agness").phone == "097 1"
    assert Place.objects.get(code="mpika").altitude_m == 1402


@pytest.mark.usefixtures("nothing_on_the_road")
def test_places_that_somebody_entered_before_keep_their_figures():
    PlaceFactory(code="mpika", name="Mpika town", altitude_m=1402)
    TimetableFactory()
    others = Cooperative.objects.count()
    load_demo()
    place = Place.objects.get(code="mpika")
    assert (place.name, place.altitude_m, place.climates.count()) == ("Mpika town", 1402, 12)
    assert Cooperative.objects.count() == others + 1
    assert Timetable.objects.exclude(cooperative=demo_cooperative()).count() == 1


def test_a_load_that_fails_half_way_leaves_nothing(monkeypatch, tmp_path):
    for name in FIXTURES:
        copyfile(fixture_path(name), tmp_path / f"{name}.json")
    (tmp_path / "charges.json").write_text("[{", encoding="utf-8")
    monkeypatch.setattr(settings, "FIXTURE_DIRS", [tmp_path])
    with pytest.raises(DeserializationError):
        load_demo()
    assert not Cooperative.objects.exists()
    assert not Place.objects.exists()


def test_no_fixture_is_left_out_and_none_names_a_row_by_number():
    folder = fixture_path("places").parent
    assert {path.stem for path in folder.glob("*.json")} == set(FIXTURES)
    rows = [row for path in folder.glob("*.json") for row in json.loads(path.read_text(encoding="utf-8"))]
    assert not [row for row in rows if "pk" in row]
