"""From closing to hand-over: what is judged, what is refused, and that what is written stays."""

import math
from datetime import timedelta

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound, NotSafe
from coop.models import Parcel, ParcelCarton
from coop.selectors.parcels import carton_at, left_too_late
from coop.services.closing import close_carton, record_departure, record_hand_over
from coop.services.parcels import add_carton, join_parcel
from tests.factories.parcels import DEPARTS_AT, PartFactory
from tests.factories.separations import SeparationFactory
from tests.factories.species import SpeciesFactory
from tests.services.packing_day import CLOSES_AT, LONG_LEG, NOW, lot, masses, packing_day

pytestmark = pytest.mark.django_db
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)


def filled(mass_kg=80.0, day=None, **fish):
    """A packing day with fish in the first carton, put there past the services."""
    day = day or packing_day()
    day.lot = lot(day, mass_kg=mass_kg, **fish)
    PartFactory(carton=day.parcel.cartons.get(), lot=day.lot)
    return day


@pytest.fixture
def day():
    return filled()


@pytest.fixture(scope="module")
def long_day():
    """Options of a day whose journey not every carton survives."""
    return {"leg": LONG_LEG}


def close(day, position=1, **changes):
    parcel = Parcel.objects.get(pk=day.parcel.pk)
    wanted = {"by": day.packer, "carton": carton_at(parcel, position), "now": CLOSES_AT}
    return close_carton(**(wanted | changes))


def sent(day, **changes):
    close(day)
    wanted = {"by": day.packer, "parcel": day.parcel, "departed_at": DEPARTS_AT, "now": DEPARTS_AT}
    return record_departure(**(wanted | changes))


def given(day, **changes):
    sent(day)
    wanted = {
        "by": day.packer,
        "parcel": day.parcel,
        "arrived_at": DEPARTS_AT + 5 * HOUR,
        "handed_over_at": DEPARTS_AT + 6 * HOUR,
        "is_hard": True,
        "now": DEPARTS_AT + 7 * HOUR,
    }
    return record_hand_over(**(wanted | changes))


def reason(day, **changes):
    with pytest.raises(NotSafe) as refusal:
        close(day, **changes)
    assert ParcelCarton.objects.get(parcel=day.parcel, position=1).closed_at is None
    return refusal.value.judged.reason


def test_a_carton_closes_with_what_was_judged(day):
    parcel = close(day, gross_mass_kg=98.5, core_temperature_c=-19.0)
    [carton] = parcel.cartons.all()
    assert (carton.closed_at, carton.closed_by) == (CLOSES_AT, day.packer)
    assert (carton.gross_mass_kg, carton.core_temperature_c) == (98.5, -19.0)
    assert carton.chance_hard >= 0.95
    assert carton.latest_safe_departure_at >= DEPARTS_AT
    assert carton.latest_safe_departure_at.minute % 5 == 0


def test_with_the_last_carton_that_holds_fish_the_parcel_closes(day):
    for _ in range(2):
        add_carton(by=day.packer, parcel=day.parcel)
    join_parcel(by=day.owner, parcel=day.parcel, lot=lot(day, mass_kg=70.0), carton=2, now=NOW)
    assert close(day).state == "open"
    parcel = close(day, position=2, now=CLOSES_AT + MINUTE, closed_at=CLOSES_AT - MINUTE)
    assert (parcel.state, parcel.closed_at, parcel.sharing_rule) == ("closed", CLOSES_AT, "capped")
    # The empty third carton gave its place back.
    assert masses(parcel) == {1: 80.0, 2: 70.0}


def test_a_carton_that_is_closed_never_changes(day):
    add_carton(by=day.packer, parcel=day.parcel)
    join_parcel(by=day.owner, parcel=day.parcel, lot=lot(day, mass_kg=70.0), carton=2, now=NOW)
    close(day)
    with pytest.raises(Conflict, match="never changes"):
        close(day)
    with pytest.raises(Conflict, match="closed"):
        join_parcel(by=day.owner, parcel=day.parcel, lot=lot(day, mass_kg=5.0), carton=1, now=NOW)
    close(day, position=2)
    with pytest.raises(Conflict, match="closed"):
        close(day, position=2)


def test_an_empty_carton_is_not_closed():
    with pytest.raises(Conflict, match="empty"):
        close(packing_day())


def test_only_who_packs_for_this_cooperative_closes_sends_and_hands_over(day):
    for by, refusal in ((day.owner, NotAllowed), (day.stranger, NotFound)):
        with pytest.raises(refusal):
            close(day, by=by)
    close(day)
    for by, refusal in ((day.owner, NotAllowed), (day.stranger, NotFound)):
        with pytest.raises(refusal):
            record_departure(by=by, parcel=day.parcel, departed_at=DEPARTS_AT, now=DEPARTS_AT)
        with pytest.raises(refusal):
            record_hand_over(by=by, parcel=day.parcel, handed_over_at=DEPARTS_AT, is_hard=True)


def test_a_carton_is_judged_with_its_own_kilograms(long_day):
    """The same fish: 100 kg of it hold on a day's journey, 20 kg among as much more insulation do not."""
    assert reason(filled(20.0, packing_day(**long_day))) == "hold_too_short"
    assert close(filled(100.0, packing_day(**long_day))).state == "closed"


def test_a_carton_is_judged_with_its_warmest_fish(long_day):
    day = filled(80.0, packing_day(**long_day), start_temperature_c=-25.0)
    PartFactory(carton=day.parcel.cartons.get(), lot=lot(day, mass_kg=1.0, start_temperature_c=-6.0))
    assert reason(day) == "hold_too_short"


def test_a_carton_is_judged_with_each_species_in_it(long_day):
    """Flesh that thaws at −4 °C among flesh that thaws at −1 °C: the least chance of the two counts."""
    day = filled(80.0, packing_day(**long_day))
    salty = SpeciesFactory(freezing_point_c=-4.0)
    PartFactory(carton=day.parcel.cartons.get(), lot=lot(day, mass_kg=1.0, species=salty))
    assert reason(day) == "hold_too_short"


def test_a_core_that_was_measured_warmer_than_it_was_said_counts(long_day):
    day = filled(80.0, packing_day(**long_day), start_temperature_c=-25.0)
    assert reason(day, core_temperature_c=-7.0) == "hold_too_short"
    assert reason(day, core_temperature_c=-1.5) == "start_too_warm"
    # One that was measured colder does not make warm fish cold.
    warm = filled(80.0, packing_day(**long_day), start_temperature_c=-7.0)
    assert reason(warm, core_temperature_c=-30.0) == "hold_too_short"


def test_a_carton_is_judged_with_the_hour_at_which_it_closes(long_day):
    day = filled(80.0, packing_day(**long_day))
    early = CLOSES_AT - 20 * HOUR
    assert reason(day, closed_at=early) == "closed_too_early"
    with pytest.raises(NotSafe) as refusal:
        close(day, closed_at=early)
    assert "closed no earlier than 2026-03-0" in refusal.value.problems[0].right
    assert close(day, closed_at=CLOSES_AT - 10 * MINUTE).state == "closed"


def test_closed_later_than_planned_it_has_to_make_the_last_safe_hour(long_day):
    day = filled(80.0, packing_day(**long_day))
    with pytest.raises(NotSafe, match="too late"):
        close(day, closed_at=DEPARTS_AT + 20 * HOUR, now=DEPARTS_AT + 20 * HOUR)
    late = DEPARTS_AT + 10 * MINUTE
    [carton] = close(day, closed_at=late, now=late).cartons.all()
    assert late < carton.latest_safe_departure_at < DEPARTS_AT + 20 * HOUR


def test_a_departure_that_left_the_timetable_is_not_safe(day):
    day.timetable.valid_until = "2026-03-01"
    day.timetable.save()
    assert reason(day) == "departure_gone"


def test_nothing_closes_in_the_future_or_before_the_fish_is_ready(day):
    with pytest.raises(Invalid, match="has not come yet"):
        close(day, closed_at=CLOSES_AT + HOUR)
    with pytest.raises(Conflict, match="not ready"):
        close(day, closed_at=day.lot.ready_at - MINUTE)


def test_steps_that_were_written_without_a_signal_keep_their_hours_when_they_are_sent(day):
    sent_at = DEPARTS_AT + 3 * HOUR
    parcel = close(day, closed_at=CLOSES_AT, now=sent_at)
    assert (parcel.state, parcel.closed_at) == ("closed", CLOSES_AT)
    step = {"by": day.packer, "parcel": day.parcel, "now": sent_at}
    assert record_departure(**step, departed_at=DEPARTS_AT).departed_at == DEPARTS_AT


@pytest.mark.parametrize("gross_mass_kg", [80.0, 5.0, -3.0, math.nan, 1e9])
def test_a_carton_weighs_more_than_the_fish_in_it(day, gross_mass_kg):
    with pytest.raises(Invalid) as refusal:
        close(day, gross_mass_kg=gross_mass_kg)
    assert refusal.value.problems[0].field == "gross_mass_kg"


def test_species_that_were_told_apart_since_do_not_close_together(day):
    other = SpeciesFactory()
    PartFactory(carton=day.parcel.cartons.get(), lot=lot(day, mass_kg=5.0, species=other))
    SeparationFactory(cooperative=day.cooperative, one=day.species, other=other)
    with pytest.raises(Conflict, match="may not share a carton"):
        close(day)


def test_a_parcel_leaves_after_it_closed_and_once(day):
    with pytest.raises(Conflict, match="leaves after all"):
        record_departure(by=day.packer, parcel=day.parcel, departed_at=DEPARTS_AT, now=DEPARTS_AT)
    parcel = sent(day, driver="Driver", plate="ABC 123", note="full")
    assert (parcel.state, parcel.departed_at) == ("departed", DEPARTS_AT)
    assert (parcel.driver, parcel.plate, parcel.departed_note) == ("Driver", "ABC 123", "full")
    with pytest.raises(Conflict):
        record_departure(by=day.packer, parcel=day.parcel, departed_at=DEPARTS_AT, now=DEPARTS_AT)


@pytest.mark.parametrize("departed_at", [CLOSES_AT - MINUTE, DEPARTS_AT + HOUR])
def test_it_leaves_neither_before_closing_nor_in_the_future(day, departed_at):
    with pytest.raises(Invalid) as refusal:
        sent(day, departed_at=departed_at)
    assert refusal.value.problems[0].field == "departed_at"


def test_what_is_written_in_the_minute_of_the_step_before_came_after_it(day):
    """A phone writes hours to the minute, the server closes to the second."""
    second = timedelta(seconds=1)
    closed = CLOSES_AT + 38 * second
    close(day, now=closed)
    step = {"by": day.packer, "parcel": day.parcel, "now": closed + 9 * second}
    with pytest.raises(Invalid):
        record_departure(**step, departed_at=closed - second)
    with pytest.raises(Invalid):
        record_departure(**step, departed_at=CLOSES_AT - MINUTE)
    assert record_departure(**step, departed_at=CLOSES_AT).departed_at == closed
    hours = {"arrived_at": CLOSES_AT, "handed_over_at": CLOSES_AT}
    with pytest.raises(Invalid):
        record_hand_over(**step, **hours | {"arrived_at": CLOSES_AT - MINUTE}, is_hard=True)
    over = record_hand_over(**step, **hours, is_hard=True)
    assert (over.arrived_at, over.handed_over_at) == (closed, closed)


def test_leaving_too_late_is_written_down_and_told(day):
    close(day)
    latest = ParcelCarton.objects.get(parcel=day.parcel).latest_safe_departure_at
    late = latest + MINUTE
    parcel = record_departure(by=day.packer, parcel=day.parcel, departed_at=late, now=late)
    assert left_too_late(parcel) == list(parcel.cartons.all())
    assert left_too_late(sent(filled())) == []
    assert left_too_late(filled().parcel) == []


def test_a_hand_over_says_when_how_and_to_whom(day):
    parcel = given(day, is_hard=False, soft_kg=12.0, core_temperature_c=-3.5, received_by="Sara", note="wet")
    assert (parcel.state, parcel.handed_over_at) == ("handed_over", DEPARTS_AT + 6 * HOUR)
    assert (parcel.is_hard, parcel.soft_kg, parcel.core_temperature_c) == (False, 12.0, -3.5)
    assert (parcel.received_by, parcel.handed_over_note) == ("Sara", "wet")
    assert given(filled()).soft_kg == 0


def test_it_is_handed_over_after_it_left(day):
    with pytest.raises(Conflict, match="after it left"):
        record_hand_over(by=day.packer, parcel=day.parcel, handed_over_at=DEPARTS_AT, is_hard=True)


@pytest.mark.parametrize(
    ("field", "changes"),
    [
        ("handed_over_at", {"handed_over_at": DEPARTS_AT + 4 * HOUR}),
        ("handed_over_at", {"handed_over_at": DEPARTS_AT + 9 * HOUR}),
        ("handed_over_at", {"arrived_at": None, "handed_over_at": DEPARTS_AT - HOUR}),
        ("arrived_at", {"arrived_at": DEPARTS_AT - HOUR}),
        ("soft_kg", {"is_hard": False}),
        ("soft_kg", {"is_hard": False, "soft_kg": 0}),
        ("soft_kg", {"is_hard": False, "soft_kg": 80.1}),
        ("soft_kg", {"soft_kg": -1}),
        ("soft_kg", {"soft_kg": math.nan}),
        ("core_temperature_c", {"core_temperature_c": math.nan}),
        ("core_temperature_c", {"core_temperature_c": 90.0}),
    ],
)
def test_a_hand_over_that_cannot_be_is_refused(day, field, changes):
    with pytest.raises(Invalid) as refusal:
        given(day, **changes)
    assert refusal.value.problems[0].field == field
    assert Parcel.objects.get().state == "departed"
