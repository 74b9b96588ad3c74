from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError

from tests.factories.buyers import BuyerFactory
from tests.factories.lots import LotFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import ParcelCartonFactory, PartFactory, closed
from tests.factories.routes import RouteFactory
from tests.factories.species import SpeciesFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_lot_is_ready_after_it_was_frozen_and_delivered_after_it_is_ready():
    lot = LotFactory()
    with refused("lot_ready_after_freezing"):
        change(lot, ready_at=lot.frozen_since - timedelta(seconds=1))
    with refused("lot_delivered_after_it_is_ready"):
        change(lot, deliver_by=lot.ready_at)
    change(lot, ready_at=lot.frozen_since, deliver_by=lot.ready_at + timedelta(hours=1))
    for rule in ("lot_ready_after_freezing", "lot_delivered_after_it_is_ready"):
        assert rule in {constraint.name for constraint in lot._meta.constraints}


def test_an_id_that_a_phone_gave_names_one_lot():
    lot = LotFactory()
    with refused("coop_lot.uuid|coop_lot_uuid"):
        twin(lot)


def test_the_form_refuses_what_is_no_number():
    lot = LotFactory()
    lot.mass_kg, lot.start_temperature_c = float("nan"), 2.0
    with pytest.raises(ValidationError) as refusal:
        lot.full_clean()
    assert sorted(refusal.value.message_dict) == ["mass_kg", "start_temperature_c"]


def fish_in(lot, *, mass_kg):
    carton = ParcelCartonFactory(
        parcel__cooperative=lot.cooperative, parcel__route=lot.route, parcel__buyer=lot.buyer
    )
    return PartFactory(carton=carton, lot=lot, mass_kg=mass_kg)


def others(lot):
    """Another value of everything that decides about the fish."""
    return {
        "member": MemberFactory(cooperative=lot.cooperative),
        "route": RouteFactory(cooperative=lot.cooperative),
        "buyer": BuyerFactory(cooperative=lot.cooperative),
        "species": SpeciesFactory(),
        "mass_kg": lot.mass_kg + 1,
        "frozen_since": lot.frozen_since - timedelta(days=1),
        "ready_at": lot.ready_at + timedelta(days=1),
        "start_temperature_c": lot.start_temperature_c - 1,
        "may_be_split": not lot.may_be_split,
        "deliver_by": lot.ready_at + timedelta(days=5),
    }


def test_a_lot_in_a_carton_stays_as_it_is():
    lot = LotFactory()
    for column, value in others(lot).items():
        change(LotFactory(cooperative=lot.cooperative), **{column: value})
    fish_in(lot, mass_kg=lot.mass_kg)
    for column, value in others(lot).items():
        with refused("lot_in_a_carton_stays_as_it_is"):
            change(lot, **{column: value})
    change(lot, note="in the blue bags")


def test_a_deadline_of_a_lot_in_a_carton_is_not_taken_away():
    lot = LotFactory()
    change(lot, deliver_by=lot.ready_at + timedelta(days=5))
    fish_in(lot, mass_kg=lot.mass_kg)
    with refused("lot_in_a_carton_stays_as_it_is"):
        change(lot, deliver_by=None)


def test_a_lot_in_an_open_carton_is_not_withdrawn_and_the_rest_of_a_closed_one_is():
    lot = LotFactory(may_be_split=True)
    part = fish_in(lot, mass_kg=5.0)
    with refused("lot_in_an_open_carton_not_withdrawn"):
        change(lot, withdrawn_at=lot.ready_at)
    closed(part.carton.parcel)
    change(lot, withdrawn_at=lot.ready_at)
    with refused("part_of_a_withdrawn_lot"):
        fish_in(lot, mass_kg=1.0)


def test_a_lot_in_a_carton_is_not_deleted():
    part = PartFactory()
    with pytest.raises(Exception, match="protected"):
        part.lot.delete()
