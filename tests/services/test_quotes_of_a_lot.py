"""A quote of a lot: what a buyer accepts is promised of that lot, and no fish is counted or sold twice."""

from datetime import timedelta

import pytest

from coop.errors import Conflict, Gone, Invalid, NotAllowed, NotFound
from coop.models import Lot, Quote, Supply
from coop.selectors.lots import lot_named, lots_of, waiting_lots
from coop.services.lots import change_lot, withdraw_lot
from coop.services.parcels import join_parcel, leave_parcel
from coop.services.plans import is_stale, propose_plan
from coop.services.quotes import make_quote, preview_quote
from coop.services.quotes_answered import accept_quote, decline_quote
from tests.factories.parcels import DEPARTS_AT
from tests.services.packing_day import NOW, lot, masses, packing_day
from tests.services.quoting_day import fish, quoted, wanted

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    return packing_day()


@pytest.fixture
def hers(day):
    """45 kg of the owner's, whole, on this day's way."""
    return lot(day, mass_kg=45.0)


def accept(secret, kg, now=NOW):
    return accept_quote(secret=secret, kg=kg, name="Mr Banda", now=now)


def kilograms(row):
    """(weighed, in cartons, promised, left) of a lot as it is now."""
    row = lot_named(row.cooperative, row.uuid)
    return row.mass_kg, row.placed_kg, row.promised_kg, row.left_kg


def test_its_supply_is_a_copy_of_what_is_left_of_the_lot(day, hers):
    quote, _ = quoted(day, lot=hers)
    supply = quote.supply
    assert (supply.lot, supply.member, supply.species) == (hers, day.owner, day.species)
    assert (supply.mass_kg, quote.left_kg, quote.most_kg) == (45.0, 45.0, 45.0)
    assert (supply.frozen_since, supply.ready_at) == (hers.frozen_since, hers.ready_at)
    assert supply.start_temperature_c == hers.start_temperature_c
    assert kilograms(hers) == (45.0, 0.0, 0.0, 45.0)


def test_of_45_kg_a_buyer_accepts_30_and_15_are_left(day, hers):
    _, secret = quoted(day, lot=hers)
    sold = accept(secret, 30.0).lot
    assert kilograms(hers) == (45.0, 0.0, 30.0, 15.0)
    assert lot_named(day.cooperative, hers.uuid).state == "offered"
    assert kilograms(sold) == (30.0, 0.0, 0.0, 30.0)
    waiting = waiting_lots(day.cooperative, day.route, day.buyer)
    assert sorted(row.left_kg for row in waiting) == [15.0, 30.0]
    assert sum(row.left_kg for row in lots_of(day.cooperative)) == 45.0


def test_all_of_it_may_be_accepted_and_then_nothing_waits_but_what_was_sold(day, hers):
    _, secret = quoted(day, lot=hers)
    sold = accept(secret, 45.0).lot
    assert kilograms(hers) == (45.0, 0.0, 45.0, 0.0)
    assert lot_named(day.cooperative, hers.uuid).state == "promised"
    assert list(waiting_lots(day.cooperative, day.route, day.buyer)) == [sold]
    with pytest.raises(Conflict, match="left to place"):
        join_parcel(by=day.packer, parcel=day.parcel, lot=hers, now=NOW)
    with pytest.raises(Conflict, match="left to quote"):
        quoted(day, lot=hers)
    with pytest.raises(Conflict, match="left to withdraw"):
        withdraw_lot(by=day.owner, lot=hers, now=NOW)


@pytest.mark.parametrize("kind", ["two of the lot", "one supply"])
def test_two_quotes_are_open_one_wins_and_the_other_hears_what_is_left(day, hers, kind):
    first, secret = quoted(day, lot=hers)
    more = {"lot": hers} if kind == "two of the lot" else {"supply": first.supply}
    other, second = quoted(day, **more)
    assert (first.left_kg, other.left_kg) == (45.0, 45.0)
    accept(secret, 25.0)
    with pytest.raises(Gone) as refusal:
        accept(second, 30.0)
    assert refusal.value.left_kg == 20.0
    assert kilograms(hers) == (45.0, 0.0, 25.0, 20.0)
    assert accept(second, 20.0).left_kg == 0.0
    assert kilograms(hers) == (45.0, 0.0, 45.0, 0.0)
    assert Quote.objects.filter(state="accepted").count() == 2


def test_the_next_quote_offers_no_more_than_is_left(day, hers):
    accept(quoted(day, lot=hers).secret, 20.0)
    assert quoted(day, lot=hers).quote.most_kg == 25.0


def test_a_parcel_takes_what_was_accepted_and_the_rest_still_travels_whole(day, hers):
    _, secret = quoted(day, by=day.packer, lot=hers, becomes="parcel")
    sold = accept(secret, 30.0)
    assert masses(sold.parcel) == {1: 30.0}
    assert kilograms(sold.lot) == (30.0, 30.0, 0.0, 0.0)
    assert kilograms(hers) == (45.0, 0.0, 30.0, 15.0)
    # Its owner wants it in one piece: that is what is left of it, and no less.
    with pytest.raises(Invalid, match="split a lot"):
        join_parcel(by=day.packer, parcel=day.parcel, lot=hers, mass_kg=10.0, now=NOW)
    with pytest.raises(Invalid, match="more than is left"):
        join_parcel(by=day.packer, parcel=day.parcel, lot=hers, mass_kg=15.001, now=NOW)
    join_parcel(by=day.packer, parcel=day.parcel, lot=hers, now=NOW)
    assert kilograms(hers) == (45.0, 15.0, 30.0, 0.0)
    assert lot_named(day.cooperative, hers.uuid).state == "placed"


def test_what_lies_in_a_carton_is_no_buyers_until_it_is_taken_out_again(day):
    divisible = lot(day, mass_kg=45.0, may_be_split=True)
    _, secret = quoted(day, lot=divisible)
    join_parcel(by=day.owner, parcel=day.parcel, lot=divisible, mass_kg=20.0, now=NOW)
    with pytest.raises(Gone) as refusal:
        accept(secret, 30.0)
    assert refusal.value.left_kg == 25.0
    leave_parcel(by=day.owner, parcel=day.parcel, lot=divisible)
    accept(secret, 30.0)
    assert kilograms(divisible) == (45.0, 0.0, 30.0, 15.0)


def test_of_a_lot_that_was_withdrawn_nothing_is_sold(day, hers):
    quote, secret = quoted(day, lot=hers)
    withdraw_lot(by=day.owner, lot=hers, now=NOW)
    with pytest.raises(Gone) as refusal:
        accept(secret, 30.0)
    assert refusal.value.left_kg == 0.0
    with pytest.raises(Conflict, match="withdrawn"):
        quoted(day, lot=hers)
    quote.refresh_from_db()
    assert quote.state == "issued"


def test_what_is_left_of_a_promised_lot_is_withdrawn_and_the_promise_stays(day, hers):
    quote, secret = quoted(day, lot=hers)
    accept(secret, 30.0)
    gone = withdraw_lot(by=day.owner, lot=hers, now=NOW)
    assert (gone.state, gone.promised_kg, gone.left_kg) == ("withdrawn", 30.0, 0.0)
    quote.refresh_from_db()
    assert (quote.state, quote.lot.mass_kg) == ("accepted", 30.0)


@pytest.mark.parametrize(
    "changes",
    [{"start_temperature_c": -12.0}, {"ready_at": NOW + timedelta(hours=2)}, {"frozen_since": NOW}],
)
def test_a_lot_that_is_told_otherwise_since_is_not_what_was_quoted(day, hers, changes):
    _, secret = quoted(day, lot=hers)
    if "frozen_since" in changes:
        changes = changes | {"ready_at": NOW + timedelta(hours=2)}
    change_lot(by=day.owner, lot=hers, **changes, now=NOW)
    with pytest.raises(Conflict, match="has changed"):
        accept(secret, 30.0)
    change_lot(by=day.owner, lot=hers, note="blue bags", now=NOW)
    assert Lot.objects.count() == 1


def test_a_lighter_lot_has_less_left_for_its_quotes(day, hers):
    _, secret = quoted(day, lot=hers)
    change_lot(by=day.owner, lot=hers, mass_kg=32.0, now=NOW)
    with pytest.raises(Gone) as refusal:
        accept(secret, 40.0)
    assert refusal.value.left_kg == 32.0
    accept(secret, 30.0)
    assert kilograms(hers) == (32.0, 0.0, 30.0, 2.0)


def test_once_some_of_it_is_promised_only_its_note_changes(day, hers):
    _, secret = quoted(day, lot=hers)
    change_lot(by=day.owner, lot=hers, may_be_split=True, now=NOW)
    accept(secret, 30.0)
    for changes in ({"mass_kg": 60.0}, {"may_be_split": False}, {"start_temperature_c": -20.0}):
        with pytest.raises(Conflict, match="A buyer has accepted"):
            change_lot(by=day.owner, lot=hers, **changes, now=NOW)
    assert change_lot(by=day.owner, lot=hers, note="30 for Mr Banda", now=NOW).note == "30 for Mr Banda"


def test_a_declined_quote_promises_nothing(day, hers):
    _, secret = quoted(day, lot=hers)
    decline_quote(secret=secret, now=NOW)
    assert kilograms(hers) == (45.0, 0.0, 0.0, 45.0)


def test_a_plan_that_counted_on_promised_fish_is_old(day, hers):
    _, secret = quoted(day, lot=hers)
    on = DEPARTS_AT.date()
    asked = {"route": day.route, "buyer": day.buyer, "first_day": on, "last_day": on}
    plan = propose_plan(by=day.packer, **asked, now=NOW)
    assert not is_stale(plan, NOW)
    accept(secret, 30.0)
    assert is_stale(plan, NOW)


def test_a_preview_of_a_lot_writes_nothing(day, hers):
    shown = preview_quote(by=day.owner, wanted=wanted(day, lot=hers), now=NOW)
    assert shown.most_kg == 45.0
    assert (Quote.objects.count(), Supply.objects.count()) == (0, 0)


def test_a_quote_is_of_one_of_the_three(day, hers):
    supply = quoted(day, lot=hers).quote.supply
    for twice in ({"lot": hers, "supply": supply}, {"lot": hers, "fish": fish(day)}, {"lot": None}):
        with pytest.raises(Invalid, match="named twice or not at all"):
            make_quote(by=day.owner, wanted=wanted(day, **twice), now=NOW)


def test_a_member_quotes_her_own_lot_a_packer_anybodys_and_a_stranger_none(day, hers):
    assert quoted(day, by=day.packer, lot=hers).quote.supply.entered_by == day.packer
    with pytest.raises(NotAllowed):
        quoted(day, by=day.fellow, lot=hers)
    with pytest.raises(NotFound):
        quoted(day, lot=lot(packing_day()))
