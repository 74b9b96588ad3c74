"""What a buyer does with a link: first come, first served, and nothing happens twice."""

from datetime import timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coop.errors import Conflict, Gone, Invalid, NotFound, NotSafe
from coop.models import CartonDesign, DayWeather, Lot, Member, Parcel, Quote, QuoteQuestion, Timetable
from coop.services.parcels import drop_parcel, leave_parcel
from coop.services.quotes_answered import MOST_QUESTIONS, accept_quote, ask, decline_quote, evenly
from tests.factories.buyers import BuyerFactory
from tests.factories.parcels import DEPARTS_AT, parcel_of
from tests.factories.places import DayWeatherFactory
from tests.services.packing_day import NOW, masses, packing_day
from tests.services.quoting_day import fish, quoted

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    return packing_day()


def accept(secret, kg=40.0, now=NOW, name="Mr Banda"):
    return accept_quote(secret=secret, kg=kg, name=name, now=now)


def test_an_accepted_quote_becomes_a_lot_of_whoever_has_the_fish(day):
    wanted_by = DEPARTS_AT + timedelta(days=2)
    quote, secret = quoted(day, by=day.packer, deliver_by=wanted_by)
    found = accept(secret)
    assert (found.state, found.accepted_kg, found.answered_by_name) == ("accepted", 40.0, "Mr Banda")
    lot = Lot.objects.get()
    assert found.lot == lot
    assert (lot.member, lot.mass_kg, lot.route, lot.buyer) == (day.owner, 40.0, day.route, day.buyer)
    assert (lot.offered_by, lot.offered_at, lot.deliver_by) == (day.packer, NOW, wanted_by)
    assert (lot.species, lot.start_temperature_c) == (day.species, quote.supply.start_temperature_c)
    assert found.parcel is None


def test_or_a_parcel_whose_cartons_hold_it_evenly(day):
    _, secret = quoted(day, by=day.packer, becomes="parcel", fish=fish(day, mass_kg=230.0))
    found = accept(secret, 201.0)
    assert masses(Parcel.objects.get(pk=found.parcel.pk)) == {1: 100.5, 2: 100.5}
    assert found.lot.mass_kg == 201.0
    assert found.parcel.departs_at == DEPARTS_AT


def test_the_same_acceptance_again_changes_nothing_and_another_is_refused(day):
    _, secret = quoted(day)
    first = accept(secret)
    again = accept(secret, now=NOW + timedelta(hours=1))
    assert (again.answered_at, again.lot) == (first.answered_at, first.lot)
    with pytest.raises(Conflict, match="accepted"):
        accept(secret, 41.0)
    with pytest.raises(Conflict, match="accepted"):
        decline_quote(secret=secret, now=NOW)
    assert Lot.objects.count() == 1


def test_it_ends_on_the_second(day):
    quote, secret = quoted(day, valid_until=NOW + timedelta(hours=3))
    with pytest.raises(Conflict, match="expired"):
        accept(secret, now=quote.valid_until)
    assert accept(secret, now=quote.valid_until - timedelta(seconds=1)).state == "accepted"


@pytest.mark.parametrize(
    "kg", [float("nan"), float("inf"), 0.0, -40.0, 40.25, 60.5, 1e300, 0.1, float("-inf"), 39.99999]
)
def test_a_weight_that_is_not_offered_is_refused(day, kg):
    _, secret = quoted(day)
    with pytest.raises(Invalid, match="kg: is not offered"):
        accept(secret, kg)
    assert Lot.objects.count() == 0


@pytest.mark.parametrize("secret", ["", "x", "0" * 26, "\x00", "é" * 500])
def test_an_unknown_secret_opens_nothing(day, secret):
    quoted(day)
    for act in (
        lambda: accept(secret),
        lambda: decline_quote(secret=secret, now=NOW),
        lambda: ask(secret=secret, text="?", now=NOW),
    ):
        with pytest.raises(NotFound):
            act()


def test_who_comes_second_hears_how_much_is_left(day):
    first, secret = quoted(day)
    _, other = quoted(day, supply=first.supply)
    accept(secret, 30.0)
    with pytest.raises(Gone) as refusal:
        accept(other, 40.0)
    assert refusal.value.left_kg == 30.0
    assert accept(other, 30.0).left_kg == 0.0


def test_a_rest_that_fills_no_carton_is_nothing_left(day):
    first, secret = quoted(day)
    _, other = quoted(day, supply=first.supply)
    accept(secret, 55.0)
    with pytest.raises(Gone) as refusal:
        accept(other, 40.0)
    assert refusal.value.left_kg == 0.0


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(kgs=st.lists(st.integers(40, 120).map(lambda half: half / 2), min_size=1, max_size=6))
def test_however_many_accept_no_more_is_sold_than_there_is(day, kgs):
    supply = quoted(day).quote.supply
    sold = 0.0
    for kg in kgs:
        _, secret = quoted(day, supply=supply)
        try:
            accept(secret, kg)
        except Gone:
            assert sold + kg > 60.0
        else:
            sold += kg
    assert (
        sum(Quote.objects.filter(supply=supply, state="accepted").values_list("accepted_kg", flat=True))
        == sold
    )
    assert sold <= 60.0


def test_a_place_that_others_took_is_gone_and_nothing_is_written(day):
    _, secret = quoted(day, by=day.packer, becomes="parcel")
    day.carrier.carton_places = 1
    day.carrier.save()
    with pytest.raises(Gone) as refusal:
        accept(secret)
    assert refusal.value.left_kg == 0.0
    assert (Lot.objects.count(), Parcel.objects.count()) == (0, 1)
    assert Quote.objects.get().state == "issued"


def test_a_lot_needs_a_place_or_room_in_a_carton_that_goes_its_way(day):
    first, secret = quoted(day)
    day.carrier.carton_places = 1
    day.carrier.save()
    # The empty carton of the day has room for it.
    assert accept(secret).state == "accepted"
    _, other = quoted_before_it_was_full(day, first.supply)
    drop_parcel(by=day.packer, parcel=day.parcel)
    fill_the_vehicle(day)
    with pytest.raises(Gone):
        accept(other, 20.0)


def quoted_before_it_was_full(day, supply):
    day.carrier.carton_places = 10
    day.carrier.save()
    found = quoted(day, supply=supply)
    day.carrier.carton_places = 1
    day.carrier.save()
    return found


def fill_the_vehicle(day):
    other = BuyerFactory(cooperative=day.cooperative, place=day.buyer.place)
    parcel_of(day, buyer=other)


def test_what_would_not_arrive_hard_by_what_is_known_today_is_not_accepted(day):
    _, secret = quoted(day)
    for place in (day.route.origin, day.route.destination):
        for days in range(-2, 4):
            DayWeatherFactory(
                cooperative=day.cooperative,
                place=place,
                date=DEPARTS_AT.date() + timedelta(days=days),
                temperature_max_c=54.0,
                temperature_min_c=50.0,
            )
    assert DayWeather.objects.exists()
    with pytest.raises(NotSafe):
        accept(secret, 19.5)
    assert Lot.objects.count() == 0


def test_a_departure_that_is_no_more_is_not_accepted(day):
    for becomes, by in (("lot", day.owner), ("parcel", day.packer)):
        _, secret = quoted(day, by=by, becomes=becomes)
        Timetable.objects.filter(pk=day.timetable.pk).update(valid_until=DEPARTS_AT.date())
        with pytest.raises(Conflict):
            accept(secret)
        Timetable.objects.filter(pk=day.timetable.pk).update(valid_until=None)


def test_a_timetable_that_took_its_place_serves_as_well(day):
    _, secret = quoted(day, by=day.packer, becomes="parcel")
    Timetable.objects.filter(pk=day.timetable.pk).update(valid_until=DEPARTS_AT.date())
    newer = Timetable.objects.get(pk=day.timetable.pk)
    newer.pk, newer.valid_from, newer.valid_until = None, DEPARTS_AT.date(), None
    newer.save()
    assert accept(secret).parcel.timetable == newer


def test_a_carton_that_is_packed_no_more_is_not_accepted(day):
    _, secret = quoted(day, by=day.packer, becomes="parcel")
    CartonDesign.objects.filter(pk=day.design.pk).update(valid_until=DEPARTS_AT.date())
    with pytest.raises(Conflict, match="packed no more"):
        accept(secret)


@pytest.mark.parametrize("who", ["owner", "packer"])
def test_whoever_left_sells_and_promises_nothing_any_more(day, who):
    _, secret = quoted(day, by=day.packer, becomes="parcel")
    Member.objects.filter(pk=getattr(day, who).pk).update(left_on=NOW.date())
    with pytest.raises(Conflict, match="no longer sells"):
        accept(secret)


def test_who_packs_no_more_has_promised_no_parcel(day):
    _, secret = quoted(day, by=day.packer, becomes="parcel")
    Member.objects.filter(pk=day.packer.pk).update(role="member")
    with pytest.raises(Conflict, match="no longer sells"):
        accept(secret)


def test_an_accepted_parcel_may_be_given_up_and_the_quote_stays_accepted(day):
    quote, secret = quoted(day, by=day.packer, becomes="parcel")
    found = accept(secret)
    leave_parcel(by=day.packer, parcel=found.parcel, lot=found.lot)
    drop_parcel(by=day.packer, parcel=found.parcel)
    quote.refresh_from_db()
    assert (quote.state, quote.parcel, quote.lot) == ("accepted", None, found.lot)


def test_declining_twice_is_once_and_an_expired_one_is_not_declined(day):
    quote, secret = quoted(day)
    decline_quote(secret=secret, note="too dear", now=NOW)
    again = decline_quote(secret=secret, note="really", now=NOW + timedelta(hours=1))
    assert (again.state, again.note, again.answered_at) == ("declined", "too dear", NOW)
    _, other = quoted(day, supply=quote.supply)
    with pytest.raises(Conflict, match="expired"):
        decline_quote(secret=other, now=quote.valid_until)


def test_questions_are_kept_the_same_one_once_and_not_without_end(day):
    quote, secret = quoted(day)
    for number in range(MOST_QUESTIONS):
        for _ in range(2):
            ask(secret=secret, text=f"Question {number}?", name="B", now=NOW + timedelta(seconds=number))
    assert QuoteQuestion.objects.filter(quote=quote).count() == MOST_QUESTIONS
    with pytest.raises(Conflict, match="So many"):
        ask(secret=secret, text="One more?", now=NOW)
    with pytest.raises(Conflict, match="expired"):
        ask(secret=quoted(day, supply=quote.supply).secret, text="Still?", now=quote.valid_until)


@given(mass=st.integers(100, 5_000_000), cartons=st.integers(1, 60))
def test_shared_out_evenly_no_gram_is_lost(mass, cartons):
    shares = evenly(mass / 1000, cartons)
    assert round(sum(shares), 3) == mass / 1000
    assert max(shares) - min(shares) <= 0.0011
