"""What became of a lot: how much lies in cartons, how far it has come, and what a list may filter by."""

import pytest

from coop.errors import NotFound
from coop.models import Lot
from coop.selectors.lots import LOT_STATES, lot_named, lots_of, waiting_lots
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.lots import LotFactory
from tests.factories.parcels import (
    ParcelCartonFactory,
    PartFactory,
    called_off,
    closed,
    departed,
    handed_over,
    settled,
)
from tests.factories.quotes import QuoteFactory, SupplyFactory
from tests.models.refusals import change
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def state_of(lot):
    return lot_named(lot.cooperative, lot.uuid).state


def carton_for(lot, **columns):
    parcel = {"cooperative": lot.cooperative, "route": lot.route, "buyer": lot.buyer}
    return ParcelCartonFactory(**{f"parcel__{name}": row for name, row in parcel.items()}, **columns)


def test_a_lot_comes_as_far_as_its_parcel():
    lot = LotFactory()
    seen = [state_of(lot)]
    parcel = PartFactory(lot=lot, carton=carton_for(lot)).carton.parcel
    seen.append(state_of(lot))
    for step in (closed, departed, handed_over, settled):
        step(parcel)
        seen.append(state_of(lot))
    assert seen == ["offered", "placed", "closed", "departed", "handed_over", "settled"]
    assert {*seen, "partly_placed", "promised", "called_off", "withdrawn"} == set(LOT_STATES)


def test_fish_of_a_parcel_that_was_called_off_is_in_the_freezer_again_and_its_part_stays():
    lot = LotFactory()
    called_off(closed(PartFactory(lot=lot, carton=carton_for(lot)).carton.parcel))
    found = lot_named(lot.cooperative, lot.uuid)
    assert (found.state, found.placed_kg, found.left_kg) == ("called_off", lot.mass_kg, 0.0)


@pytest.mark.parametrize(
    ("steps", "state"),
    [(0, "placed"), (1, "closed"), (2, "departed"), (3, "called_off"), (4, "called_off")],
)
def test_of_a_lot_of_which_a_part_was_called_off_what_still_travels_is_told_first(steps, state):
    lot = LotFactory(may_be_split=True)
    first, second = (PartFactory(lot=lot, carton=carton_for(lot), mass_kg=10.0) for _ in range(2))
    called_off(closed(first.carton.parcel))
    for step in (closed, departed, handed_over, settled)[:steps]:
        step(second.carton.parcel)
    assert state_of(lot) == state


def test_a_closed_carton_of_an_open_parcel_is_closed():
    lot = LotFactory()
    carton = PartFactory(lot=lot, carton=carton_for(lot)).carton
    parcel = carton.parcel
    change(carton, closed_at=parcel.closes_at, closed_by=parcel.opened_by, chance_hard=0.97)
    assert state_of(lot) == "closed"


def test_a_lot_in_two_parcels_is_as_far_as_the_slower_one():
    lot = LotFactory(may_be_split=True)
    first, second = (PartFactory(lot=lot, carton=carton_for(lot), mass_kg=10.0) for _ in range(2))
    departed(closed(first.carton.parcel))
    assert state_of(lot) == "placed"
    closed(second.carton.parcel)
    assert state_of(lot) == "closed"


def test_what_is_left_of_a_lot_waits_until_it_is_withdrawn():
    lot = LotFactory(may_be_split=True)
    part = PartFactory(lot=lot, carton=carton_for(lot), mass_kg=12.5)
    row = lot_named(lot.cooperative, lot.uuid)
    assert (row.state, row.placed_kg, row.left_kg) == ("partly_placed", 12.5, 7.5)
    departed(closed(part.carton.parcel))
    change(lot, withdrawn_at=lot.ready_at)
    row = lot_named(lot.cooperative, lot.uuid)
    assert (row.state, row.placed_kg, row.left_kg) == ("departed", 12.5, 0)
    gone = LotFactory(withdrawn_at=lot.ready_at)
    assert state_of(gone) == "withdrawn"
    assert lot_named(gone.cooperative, gone.uuid).left_kg == 0


def test_tenths_that_no_computer_adds_up_exactly_leave_nothing_over():
    lot = LotFactory(mass_kg=0.3, may_be_split=True)
    for mass in (0.1, 0.2):
        PartFactory(lot=lot, carton=carton_for(lot), mass_kg=mass)
    assert state_of(lot) == "placed"


def promised(lot, kg):
    """Kilograms of a lot that a buyer has accepted; the quotes of the factories sell 40 to 60 kg."""
    ours = {"cooperative": lot.cooperative}
    supply = SupplyFactory(**ours, member=lot.member, lot=lot)
    quote = QuoteFactory(**ours, supply=supply)
    answer = {"state": "accepted", "accepted_kg": kg, "answered_at": quote.issued_at}
    change(quote, **answer, lot=LotFactory(**ours, mass_kg=kg))


def test_what_is_promised_is_not_left_and_a_lot_of_which_all_is_promised_waits_no_more():
    lot = LotFactory(mass_kg=100.0, may_be_split=True)
    promised(LotFactory(cooperative=lot.cooperative, mass_kg=90.0), 60.0)
    promised(lot, 40.0)
    row = lot_named(lot.cooperative, lot.uuid)
    assert (row.state, row.placed_kg, row.promised_kg, row.left_kg) == ("offered", 0.0, 40.0, 60.0)
    assert lot in waiting_lots(lot.cooperative, lot.route, lot.buyer)
    PartFactory(lot=lot, carton=carton_for(lot), mass_kg=10.0)
    PartFactory(lot=lot, carton=carton_for(lot), mass_kg=5.0)
    row = lot_named(lot.cooperative, lot.uuid)
    assert (row.state, row.placed_kg, row.promised_kg, row.left_kg) == ("partly_placed", 15.0, 40.0, 45.0)
    promised(lot, 45.0)
    row = lot_named(lot.cooperative, lot.uuid)
    assert (row.state, row.placed_kg, row.promised_kg, row.left_kg) == ("placed", 15.0, 85.0, 0.0)
    whole = LotFactory(cooperative=lot.cooperative, mass_kg=45.0)
    promised(whole, 45.0)
    row = lot_named(whole.cooperative, whole.uuid)
    assert (row.state, row.placed_kg, row.promised_kg, row.left_kg) == ("promised", 0.0, 45.0, 0.0)
    assert whole not in waiting_lots(whole.cooperative, whole.route, whole.buyer)


def test_lots_are_filtered_by_state_and_by_way():
    lot = LotFactory()
    way = {"cooperative": lot.cooperative, "route": lot.route, "buyer": lot.buyer}
    early = LotFactory(**way, ready_at=lot.frozen_since)
    placed = LotFactory(**way)
    PartFactory(lot=placed, carton=carton_for(placed))
    LotFactory(**way, withdrawn_at=lot.ready_at)
    LotFactory(cooperative=lot.cooperative)
    assert lots_of(lot.cooperative).filter(state="placed").get() == placed
    assert list(waiting_lots(lot.cooperative, lot.route, lot.buyer)) == [early, lot]


def test_a_lot_of_another_cooperative_is_not_there():
    lot = LotFactory()
    with pytest.raises(NotFound):
        lot_named(CooperativeFactory(), lot.uuid)
    assert not lots_of(CooperativeFactory()).exists()


def test_many_lots_take_as_many_questions_as_one():
    cooperative = CooperativeFactory()

    def make():
        lot = LotFactory(cooperative=cooperative)
        PartFactory(lot=lot, carton=carton_for(lot))

    def read():
        for lot in lots_of(cooperative):
            assert [part.carton.parcel.state for part in lot.parts.all()] == ["open"]
            assert lot.member.name
            assert lot.species.code

    same_for_many(make, read, most=2)
    assert Lot.objects.count() == 30
