"""Send now alone, share, or wait: the three ways of some fish, on the small trade of the factories."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from coop.models import Parcel
from coop.selectors.cartons import carton_designs_of
from coop.selectors.departures import departures_for
from coop.selectors.parcels import capacity_kg
from coop.selectors.split import open_split
from coop.selectors.ways import best_of, ways_of
from coop.selectors.ways_question import WaysQuestion
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.freezers import FreezerFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import DEPARTS_AT, ParcelCartonFactory, PartFactory, closed, lot_of
from tests.factories.scene import trade
from tests.factories.separations import SeparationFactory
from tests.factories.species import SpeciesFactory
from tests.selectors.queries import questions
from tests.selectors.shared_carton import SHORT_WAY, shared_carton

pytestmark = pytest.mark.django_db
MONDAY_MORNING = datetime(2026, 3, 2, 6, tzinfo=UTC)
LONG_WAY = {"hours_mean": 60.0, "hours_floor": 40.0}


def asked(shore, **changes):
    """20 kg of another member, ready on Monday morning."""
    cooperative = shore.cooperative
    values = {
        "cooperative": cooperative, "route": shore.route, "buyer": shore.buyer, "species": shore.species,
        "designs": tuple(carton_designs_of(cooperative)), "mass_kg": 20.0, "start_temperature_c": -18.0,
        "ready_at": MONDAY_MORNING, "deliver_by": None, "days": 7, "member": None, "lot": None,
    }  # fmt: skip
    values |= changes
    values["member"] = values["member"] or MemberFactory(cooperative=cooperative)
    return WaysQuestion(**values)


@pytest.fixture
def shore():
    return trade(CooperativeFactory(), leg=SHORT_WAY)


@pytest.fixture
def filling():
    """An open parcel with 20 and 35 kg in its carton of 100 kg."""
    return shared_carton(20.0, 35.0, leg=SHORT_WAY)


def test_alone_is_the_cheapest_safe_departure_of_the_coming_days_with_what_waiting_costs(shore):
    question = asked(shore)
    alone, _, wait = ways_of(question)
    first = next(one for one in departures_for(question.about()) if one.is_safe)
    assert alone.trip.departure.slot == first.slot
    assert alone.trip.cost_minor == first.bill.cost.total + alone.trip.waiting.total_minor
    assert alone.trip.members == 1
    assert wait.trip.departure.slot.departs_at - alone.trip.departure.slot.departs_at == timedelta(days=3)


def test_waiting_costs_the_freezer_and_what_the_fish_loses(shore):
    FreezerFactory(cooperative=shore.cooperative, air_temperature_c=-20)
    alone, _, wait = ways_of(asked(shore))
    assert wait.trip.waiting.storage_minor > alone.trip.waiting.storage_minor > 0
    assert wait.trip.waiting.quality_minor > alone.trip.waiting.quality_minor > 0
    saved = wait.trip.waiting.total_minor - alone.trip.waiting.total_minor
    assert wait.trip.cost_minor - alone.trip.cost_minor == saved
    assert best_of((alone, wait)) is alone


def test_waiting_tells_what_would_fill_the_carton_and_what_a_kilogram_would_cost_then(shore):
    *_, wait = ways_of(asked(shore))
    assert wait.kg_missing == pytest.approx(capacity_kg(shore.design) - 20.0)
    assert wait.filled_per_kg_minor < wait.trip.cost_per_kg_minor / 2


def test_a_fuller_carton_has_less_missing(shore):
    [*_, less], [*_, more] = ways_of(asked(shore)), ways_of(asked(shore, mass_kg=60.0))
    assert more.kg_missing == pytest.approx(less.kg_missing - 40.0)


def test_to_share_costs_what_the_cooperatives_rule_says_once_the_fish_lies_in_the_carton(filling):
    question = asked(filling.shore)
    _, share, _ = ways_of(question)
    assert (share.trip.parcel, share.trip.members) == (filling.parcel.uuid, 3)
    lot = lot_of(filling.shore, member=question.member, mass_kg=20.0)
    PartFactory(carton=filling.parcel.cartons.get(), lot=lot)
    paid = open_split(Parcel.objects.get(pk=filling.parcel.pk)).share_of(question.member)
    own_loss = share.trip.cost_minor - paid - share.trip.waiting.total_minor
    assert 0 <= own_loss < 0.01 * share.trip.cost_minor


@pytest.mark.parametrize("rule", ["equal", "by_weight", "shapley"])
def test_the_rule_of_the_cooperative_counts(filling, rule):
    filling.shore.cooperative.sharing_rule = rule
    filling.shore.cooperative.save()
    question = asked(filling.shore)
    _, share, _ = ways_of(question)
    PartFactory(
        carton=filling.parcel.cartons.get(), lot=lot_of(filling.shore, member=question.member, mass_kg=20.0)
    )
    paid = open_split(Parcel.objects.get(pk=filling.parcel.pk)).share_of(question.member)
    assert share.trip.cost_minor - share.trip.waiting.total_minor == pytest.approx(paid, rel=0.01)


def test_sharing_a_carton_that_is_half_full_is_cheaper_than_one_of_ones_own(filling):
    alone, share, wait = ways_of(asked(filling.shore))
    assert share.trip.cost_minor < alone.trip.cost_minor < wait.trip.cost_minor
    assert best_of((alone, share, wait)) is share


def test_who_has_fish_in_the_carton_pays_what_more_fish_adds(filling):
    filling.shore.cooperative.sharing_rule = "by_weight"
    filling.shore.cooperative.save()
    _, hers, _ = ways_of(asked(filling.shore, member=filling.members[0]))
    _, fresh, _ = ways_of(asked(filling.shore))
    assert hers.trip.members == 2
    assert hers.trip.cost_minor < fresh.trip.cost_minor


def test_a_carton_without_room_says_how_much_is_left(filling):
    _, share, _ = ways_of(asked(filling.shore, mass_kg=60.0))
    assert share.reason == "no_room"
    assert share.values == {"room_kg": 45.5, "mass_kg": 60.0}


def test_of_two_parcels_the_cheaper_one_is_shown(filling):
    other = shared_carton(70.0, cooperative=CooperativeFactory(), leg=SHORT_WAY)
    more = Parcel.objects.get(pk=filling.parcel.pk)
    more.pk, more.uuid = None, other.parcel.uuid.__class__(int=7)
    more.save()
    carton = ParcelCartonFactory(parcel=more)
    PartFactory(carton=carton, lot=lot_of(filling.shore, mass_kg=75.0))
    filling.shore.cooperative.sharing_rule = "by_weight"
    filling.shore.cooperative.save()
    _, share, _ = ways_of(asked(filling.shore))
    assert share.trip.parcel == more.uuid


def test_species_that_are_kept_apart_do_not_share(filling):
    other = SpeciesFactory()
    SeparationFactory(cooperative=filling.shore.cooperative, one=other, other=filling.shore.species)
    _, share, _ = ways_of(asked(filling.shore, species=other))
    assert share.reason == "kept_apart"


def test_a_parcel_that_closes_before_the_fish_is_ready_is_none(filling):
    ready_at = DEPARTS_AT - timedelta(minutes=30)
    _, share, _ = ways_of(asked(filling.shore, ready_at=ready_at))
    assert share.reason == "no_open_parcel"


def test_a_closed_parcel_is_none(filling):
    closed(filling.parcel)
    _, share, _ = ways_of(asked(filling.shore))
    assert share.reason == "no_open_parcel"


def test_warm_fish_that_would_make_the_carton_unsafe_is_not_offered_a_place(filling):
    alone, share, wait = ways_of(asked(filling.shore, start_temperature_c=-2.6))
    assert share.reason == "not_safe_together"
    assert share.values["chance_hard"] < 0.95
    assert [way.trip for way in (alone, wait)] == [None, None]


def test_the_lot_that_is_asked_about_is_not_shared_with_itself(filling):
    lot = filling.parcel.cartons.get().parts.first().lot
    _, share, _ = ways_of(asked(filling.shore, lot=lot, member=lot.member))
    assert share.reason == "no_room"


def test_without_an_open_parcel_lots_on_offer_make_a_carton(shore):
    lots = [lot_of(shore, mass_kg=mass) for mass in (35.0, 40.0)]
    lot_of(shore, mass_kg=90.0)
    alone, share, _ = ways_of(asked(shore))
    assert share.trip.parcel is None
    assert share.trip.members == 3
    assert share.trip.cost_minor < alone.trip.cost_minor
    assert all(lot.parts.count() == 0 for lot in lots)


def test_a_lot_that_may_be_split_fills_the_room_that_is_left(shore):
    lot_of(shore, mass_kg=90.0)
    assert ways_of(asked(shore))[1].reason == "no_open_parcel"
    lot_of(shore, mass_kg=90.0, may_be_split=True)
    assert ways_of(asked(shore))[1].trip.members == 2


def test_own_lots_and_lots_that_go_elsewhere_or_were_withdrawn_make_no_carton(shore):
    question = asked(shore)
    lot_of(shore, member=question.member, mass_kg=35.0)
    lot_of(shore, mass_kg=35.0, withdrawn_at=MONDAY_MORNING)
    stranger = trade(CooperativeFactory(), leg=SHORT_WAY)
    lot_of(stranger, mass_kg=35.0)
    assert ways_of(question)[1].reason == "no_open_parcel"


def test_fish_too_little_for_a_carton_may_still_share(filling):
    alone, share, wait = ways_of(asked(filling.shore, mass_kg=2.0))
    assert (alone.reason, wait.reason) == ("fits_no_carton", "fits_no_carton")
    assert alone.values["right"].startswith("5.1 to")
    assert share.trip.parcel == filling.parcel.uuid


def test_where_nothing_is_safe_nothing_is_offered():
    far = trade(CooperativeFactory(), leg=LONG_WAY)
    lot_of(far, mass_kg=40.0)
    ways = ways_of(asked(far))
    assert [way.trip for way in ways] == [None, None, None]
    assert [way.reason for way in ways] == ["no_safe_departure", "no_open_parcel", "no_safe_departure"]
    assert best_of(ways) is None


def test_a_vehicle_without_a_place_left_is_none(filling):
    filling.shore.carrier.carton_places = 1
    filling.shore.carrier.save()
    alone, *_ = ways_of(asked(filling.shore))
    assert alone.trip.departure.slot.departs_at == DEPARTS_AT + timedelta(days=1)
    one_day = replace(asked(filling.shore), days=0)
    assert ways_of(one_day)[0].reason == "no_places"


def test_without_a_departure_or_a_price_it_says_which(shore):
    shore.tariff.delete()
    assert ways_of(asked(shore))[0].reason == "no_price"
    shore.timetable.delete()
    assert [way.reason for way in ways_of(asked(shore))] == ["no_departure", "no_open_parcel", "no_departure"]


def test_a_wait_that_ends_with_the_days_that_were_asked_for(shore):
    *_, wait = ways_of(asked(shore, days=2))
    assert wait.reason == "no_departure"


def test_fish_that_is_wanted_soon_does_not_wait(shore):
    question = asked(shore, deliver_by=MONDAY_MORNING + timedelta(days=2))
    alone, _, wait = ways_of(question)
    assert alone.trip
    assert wait.reason == "no_safe_departure"


def test_lots_on_offer_are_read_in_a_fixed_number_of_questions(shore):
    question = asked(shore)
    for _ in range(2):
        lot_of(shore, mass_kg=30.0)
    ways_of(question)
    for_two = questions(lambda: ways_of(question))
    for _ in range(10):
        lot_of(shore, mass_kg=30.0)
    ways_of(question)
    assert questions(lambda: ways_of(question)) == for_two
