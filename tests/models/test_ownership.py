"""Rows of two cooperatives never point at each other."""

import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.db.models import ProtectedError

from coop.models.ownership import Owned
from tests.factories.buyers import BuyerFactory
from tests.factories.carriers import CarrierFactory
from tests.factories.cartons import DesignMaterialFactory
from tests.factories.charges import ChargeFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.materials import MaterialFactory
from tests.factories.members import FellowFactory, OwnerFactory, StrangerFactory
from tests.factories.routes import RouteFactory
from tests.factories.tariffs import TariffFactory
from tests.factories.timetables import TimetableFactory
from tests.models.refusals import change, refused, stored, twin

pytestmark = pytest.mark.django_db

POINTING = [
    (TimetableFactory, "carrier", CarrierFactory),
    (TimetableFactory, "route", RouteFactory),
    (TariffFactory, "carrier", CarrierFactory),
    (TariffFactory, "route", RouteFactory),
    (ChargeFactory, "route", RouteFactory),
    (ChargeFactory, "buyer", BuyerFactory),
]
OWNED = [
    model for model in Owned.__subclasses__() if not model._meta.abstract and model._meta.app_label == "coop"
]


@pytest.mark.parametrize(("factory", "name", "target"), POINTING)
def test_a_row_points_at_rows_of_its_own_cooperative_only(factory, name, target):
    row, strange = factory(), target()
    rule = f"{row._meta.model_name}_{name}_of_its_cooperative"
    with refused(rule):
        change(row, **{name: strange})
    with refused(rule):
        twin(row, **{name: strange, "valid_from": "2020-01-01", "valid_until": "2021-01-01"})
    change(row, **{name: target(cooperative=row.cooperative)})


@pytest.mark.parametrize(("factory", "name", "target"), POINTING)
def test_the_form_names_the_stranger(factory, name, target):
    row = factory()
    setattr(row, name, target())
    with pytest.raises(ValidationError, match="belongs to another cooperative"):
        row.full_clean()


def test_a_carton_is_made_of_materials_of_its_own_cooperative():
    row, strange = DesignMaterialFactory(), MaterialFactory()
    with refused("design_material_of_its_cooperative"):
        change(row, material=strange)
    with refused("design_material_of_its_cooperative"):
        twin(row, material=strange)
    row.material = strange
    with pytest.raises(ValidationError, match="belongs to another cooperative"):
        row.full_clean()


@pytest.mark.parametrize("model", OWNED, ids=[model.__name__ for model in OWNED])
def test_a_row_stays_with_its_cooperative(model):
    row = stored(model)
    name = row._meta.model_name
    # What points at others, or never changes at all, is refused for that first, in some order.
    with refused(rf"{name}_\w+_its_cooperative|{name}_never_changes"):
        change(row, cooperative=CooperativeFactory())


def test_every_owned_table_is_among_them():
    assert len(OWNED) == 25


def test_a_cooperative_that_owns_something_is_not_deleted():
    member = OwnerFactory()
    with pytest.raises(ProtectedError):
        member.cooperative.delete()


def test_an_owner_and_a_fellow_share_a_cooperative_and_a_stranger_has_another():
    owner, fellow, stranger = OwnerFactory(), FellowFactory(), StrangerFactory()
    assert owner.cooperative == fellow.cooperative
    assert stranger.cooperative != owner.cooperative


def test_a_table_that_was_rebuilt_still_has_its_triggers():
    stays = {f"{model._meta.model_name}_stays_with_its_cooperative_update" for model in OWNED}
    points = {
        f"{model._meta.model_name}_{name}_of_its_cooperative_{event}"
        for model in OWNED
        for name in model.within_cooperative
        for event in ("insert", "update")
    }
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
            found = {name for (name,) in cursor.fetchall()}
        assert stays | points <= found
