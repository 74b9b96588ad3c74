from datetime import timedelta
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError

from tests.factories.lots import LotFactory
from tests.factories.members import MemberFactory
from tests.factories.quotes import SupplyFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("columns", "rule"),
    [
        ({"mass_kg": 0.0}, "supply_mass_kg_range"),
        ({"mass_kg": 5000.1}, "supply_mass_kg_range"),
        ({"start_temperature_c": -2.0}, "supply_start_temperature_c_range"),
    ],
)
def test_what_is_out_of_range_is_refused(columns, rule):
    with refused(rule):
        SupplyFactory(**columns)


@pytest.mark.parametrize("mass_kg", [float("nan"), float("inf")])
def test_a_mass_that_is_no_number_is_refused_by_the_form(mass_kg):
    supply = SupplyFactory()
    supply.mass_kg = mass_kg
    with pytest.raises(ValidationError, match="must be a number"):
        supply.full_clean()


def test_it_is_not_ready_before_it_is_frozen():
    supply = SupplyFactory()
    with refused("supply_ready_after_freezing"):
        twin(supply, uuid=uuid4(), ready_at=supply.frozen_since - timedelta(seconds=1))


@pytest.mark.parametrize("name", ["member", "entered_by"])
def test_it_is_of_a_member_of_its_own_cooperative(name):
    with refused("supply_(member|entered_by)_of_its_cooperative"):
        SupplyFactory(**{name: MemberFactory()})


def test_it_is_taken_from_a_lot_of_the_same_member_and_stays_with_it():
    lot = LotFactory()
    ours = {"cooperative": lot.cooperative, "lot": lot}
    with refused("supply_lot_of_its_member"):
        SupplyFactory(**ours)
    with refused("supply_lot_of_its_cooperative|supply_lot_of_its_member"):
        SupplyFactory(lot=lot)
    supply = SupplyFactory(**ours, member=lot.member)
    with refused("supply_never_changes"):
        change(supply, lot=None)
    other = SupplyFactory()
    other.lot = lot
    with pytest.raises(ValidationError, match="another cooperative"):
        other.clean()
