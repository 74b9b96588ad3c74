"""What the database holds of parcels, however it is written: a carton that is closed never changes."""

from datetime import timedelta

import pytest
from django.db import connection

from coop.models import Part
from coop.models.parcels import REACHED_AT, ParcelState
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.lots import LotFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import (
    ParcelCartonFactory,
    ParcelFactory,
    PartFactory,
    closed,
    departed,
    handed_over,
    settled,
)
from tests.factories.timetables import TimetableFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db
HOUR = timedelta(hours=1)


@pytest.fixture
def part():
    return PartFactory()


@pytest.fixture
def parcel(part):
    return part.carton.parcel


@pytest.fixture
def sent(parcel):
    return departed(closed(parcel))


def raw(sql):
    with connection.cursor() as cursor:
        cursor.execute(sql)


def beside(part, **lot):
    """Another lot that goes the same way."""
    parcel = part.carton.parcel
    return LotFactory(cooperative=parcel.cooperative, route=parcel.route, buyer=parcel.buyer, **lot)


def test_states_follow_one_another_and_each_has_its_time():
    assert ParcelState.values == ["open", "closed", "departed", "handed_over", "settled", "called_off"]
    assert list(REACHED_AT) == ParcelState.values[1:-1]


def test_a_parcel_goes_forward_one_state_at_a_time(parcel):
    steps = (closed, departed, handed_over, settled)
    for step, state in zip(steps, REACHED_AT, strict=True):
        step(parcel)
        for other in set(ParcelState.values) - {state}:
            with refused("parcel_goes_forward|parcel_state_agrees_with_its_times"):
                change(parcel, state=other)
    with refused("parcel_goes_forward"):
        raw(f"UPDATE coop_parcel SET state = 'open' WHERE id = {parcel.pk}")


def test_a_state_has_its_times_and_no_later_ones(parcel):
    for column in REACHED_AT.values():
        with refused('"?parcel_'):
            change(parcel, **{column: parcel.departs_at})
    assert "parcel_state_agrees_with_its_times" in {rule.name for rule in parcel._meta.constraints}
    with refused("parcel_state_agrees_with_its_times"):
        change(parcel, closed_at=parcel.closes_at)


def test_an_open_parcel_has_no_rule_yet_and_a_closed_one_keeps_its_own(parcel):
    with refused("parcel_shared_by_a_rule_once_closed"):
        change(parcel, sharing_rule="capped")
    closed(parcel)
    with refused("parcel_closing_stays"):
        change(parcel, sharing_rule="equal")


def test_hours_of_a_parcel_are_in_order(parcel):
    with refused("parcel_closes_before_it_leaves"):
        twin(parcel, uuid=LotFactory().uuid, closes_at=parcel.departs_at + HOUR)
    closed(parcel)
    leaving = {"state": "departed", "departed_at": parcel.closed_at - HOUR}
    with refused("parcel_leaves_after_closing"):
        change(parcel, **leaving)
    departed(parcel)
    arriving = {"state": "handed_over", "is_hard": True, "soft_kg": 0}
    with refused("parcel_handed_over_after_leaving"):
        change(parcel, **arriving, handed_over_at=parcel.departed_at - HOUR)
    for hours in (-1, 7):
        with refused("parcel_arrives_on_the_way"):
            change(
                parcel,
                **arriving,
                handed_over_at=parcel.departed_at + 6 * HOUR,
                arrived_at=parcel.departed_at + hours * HOUR,
            )


@pytest.mark.parametrize(
    "said",
    [
        {},
        {"is_hard": True},
        {"is_hard": False, "soft_kg": None},
        {"is_hard": False, "soft_kg": 0},
        {"is_hard": None, "soft_kg": 2},
    ],
)
def test_whoever_hands_over_says_how_the_fish_was(sent, said):
    with refused("parcel_handed_over_says_how_it_was"):
        change(sent, state="handed_over", handed_over_at=sent.departed_at + HOUR, **said)


def test_what_the_buyer_paid_is_written_when_it_is_settled(sent):
    with refused("parcel_paid_when_settled"):
        change(sent, received_minor=100)
    settled(handed_over(sent), received_minor=100)
    with refused("parcel_settlement_stays"):
        change(sent, received_minor=200)


def test_what_was_written_down_on_the_way_stays(sent):
    with refused("parcel_departure_stays"):
        change(sent, plate="XYZ 9")
    handed_over(sent)
    with refused("parcel_hand_over_stays"):
        change(sent, soft_kg=3)


def test_a_parcel_with_fish_keeps_its_departure(part, parcel):
    other = TimetableFactory(cooperative=parcel.cooperative, route=parcel.route)
    with refused("parcel_with_fish_stays_as_it_is"):
        change(parcel, timetable=other)
    Part.objects.filter(pk=part.pk).delete()
    change(parcel, timetable=other)


def test_a_parcel_closes_with_all_its_cartons(part, parcel):
    ParcelCartonFactory(parcel=parcel, position=2)
    change(part.carton, closed_at=parcel.closes_at, closed_by=parcel.opened_by, chance_hard=0.97)
    with refused("parcel_closes_with_its_cartons"):
        change(parcel, state="closed", closed_at=parcel.closes_at, sharing_rule="capped")
    with refused("parcel_closes_with_its_cartons"):
        change(ParcelFactory(), state="closed", closed_at=parcel.closes_at, sharing_rule="capped")


def test_a_parcel_and_a_carton_begin_open(parcel):
    with refused("parcel_begins_open|parcel_state_agrees_with_its_times"):
        twin(parcel, uuid=LotFactory().uuid, state="closed")
    facts = {"closed_at": parcel.closes_at, "closed_by": parcel.opened_by, "chance_hard": 0.97}
    with refused("carton_begins_open"):
        ParcelCartonFactory(parcel=parcel, position=2, **facts)
    closed(parcel)
    with refused("carton_of_an_open_parcel"):
        ParcelCartonFactory(parcel=parcel, position=2)


def test_an_empty_carton_is_not_closed():
    carton = ParcelCartonFactory()
    closing = {"closed_at": carton.parcel.closes_at, "closed_by": carton.parcel.opened_by, "chance_hard": 1}
    with refused("carton_closes_with_fish"):
        change(carton, **closing)


def test_a_closed_carton_says_by_whom_and_how_safe(part, parcel):
    for facts in (
        {"closed_at": parcel.closes_at},
        {"closed_at": parcel.closes_at, "closed_by": parcel.opened_by},
        {"chance_hard": 0.9},
        {"gross_mass_kg": 30},
    ):
        with refused("carton_closed_with_its_facts"):
            change(part.carton, **facts)
    stranger = MemberFactory(cooperative=CooperativeFactory())
    with refused("carton_closed_by_of_its_cooperative"):
        change(part.carton, closed_at=parcel.closes_at, closed_by=stranger, chance_hard=0.97)


CHANGES_OF_WHAT_IS_CLOSED = [
    "UPDATE coop_parcelcarton SET closed_at = NULL, closed_by_id = NULL, chance_hard = NULL"
    " WHERE id = {carton}",
    "UPDATE coop_parcelcarton SET gross_mass_kg = 1 WHERE id = {carton}",
    "UPDATE coop_parcelcarton SET position = 9 WHERE id = {carton}",
    "DELETE FROM coop_parcelcarton WHERE id = {carton}",
    "UPDATE coop_part SET mass_kg = 0.5 WHERE id = {part}",
    "UPDATE coop_part SET lot_id = {lot} WHERE id = {part}",
    "UPDATE coop_part SET carton_id = {open} WHERE id = {part}",
    "DELETE FROM coop_part WHERE id = {part}",
    "INSERT INTO coop_part (carton_id, lot_id, mass_kg) VALUES ({carton}, {lot}, 1)",
    "UPDATE coop_lot SET mass_kg = 30 WHERE id = (SELECT lot_id FROM coop_part WHERE id = {part})",
    "UPDATE coop_parcel SET timetable_id = {timetable} WHERE id = {parcel}",
    "DELETE FROM coop_parcel WHERE id = {parcel}",
]


@pytest.mark.parametrize("sql", CHANGES_OF_WHAT_IS_CLOSED)
def test_a_carton_that_is_closed_never_changes(sql):
    part = PartFactory(lot__may_be_split=True)
    parcel = part.carton.parcel
    other = beside(part, mass_kg=30.0, may_be_split=True)
    open_carton = ParcelCartonFactory(
        parcel__cooperative=parcel.cooperative, parcel__route=parcel.route, parcel__buyer=parcel.buyer
    )
    timetable = TimetableFactory(cooperative=parcel.cooperative, route=parcel.route)
    closed(parcel)
    before = list(Part.objects.values())
    with refused("closed|stays"):
        raw(
            sql.format(
                carton=part.carton_id,
                part=part.pk,
                lot=other.pk,
                open=open_carton.pk,
                parcel=parcel.pk,
                timetable=timetable.pk,
            )
        )
    assert list(Part.objects.values()) == before


def test_an_open_carton_changes_and_goes(part):
    lot = beside(part, mass_kg=1.0)
    raw(f"INSERT INTO coop_part (carton_id, lot_id, mass_kg) VALUES ({part.carton_id}, {lot.pk}, 1)")
    raw(f"DELETE FROM coop_part WHERE carton_id = {part.carton_id}")
    raw(f"DELETE FROM coop_parcelcarton WHERE id = {part.carton_id}")
    raw(f"DELETE FROM coop_parcel WHERE id = {part.carton.parcel_id}")
    assert not Part.objects.exists()
