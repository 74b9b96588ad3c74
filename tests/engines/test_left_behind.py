import pytest

from coop.engines.consolidation import Lot
from tests.engines.consolidation_cases import HOUR, Day, an_offer


def left(lots, places=1, may_not_share=(), **offer):
    found = Day(lots, [an_offer(lots, **offer)], {"d": places}, may_not_share).plan()
    return {key: (why.code, why.values) for key, why in found.left_behind.items()}


@pytest.mark.parametrize(
    ("lot", "offer", "expected"),
    [
        ({"ready_at": 11 * HOUR}, {}, ("not_ready", {"ready_at": 11 * HOUR, "last_closing": 10 * HOUR})),
        (
            {"deadline": 29 * HOUR},
            {},
            ("misses_deadline", {"deadline": 29 * HOUR, "earliest_hand_over": 30 * HOUR}),
        ),
        ({}, {"allowed": (False,)}, ("not_safe", {})),
        ({}, {"capacity": 39}, ("too_heavy", {"mass_kg": 40, "most_kg": 39})),
        ({"volume": 0.2}, {"volume": 0.1}, ("too_bulky", {"volume_m3": 0.2, "most_m3": 0.1})),
        ({}, {"least_mass": 50}, ("too_little_to_stay_hard", {"mass_kg": 40, "least_mass_kg": 50})),
        (
            {"value": 20},
            {},
            ("costs_more_than_worth", {"cost_minor": 1000, "worth_minor": 800, "mass_kg": 40}),
        ),
    ],
)
def test_one_thing_alone_keeps_a_lot_at_home_and_is_named(lot, offer, expected):
    kept = left([Lot(key="a", mass=40, **lot)], **offer)
    assert kept == {"a": expected}
    # Without that one thing the same lot goes.
    assert left([Lot(key="a", mass=40)]) == {}


def test_a_carton_that_takes_more_places_than_are_left_finds_no_room():
    lots = [Lot(key="a", mass=40)]
    offers = [an_offer(lots, places=2)]
    why = Day(lots, offers, {"d": 1}).plan().left_behind["a"]
    assert (why.code, why.values) == ("no_room", {"places_left": 1})
    assert Day(lots, offers, {"d": 2}).plan().left_behind == {}


def test_a_divisible_lot_is_too_heavy_only_if_its_least_part_is():
    heavy = {"mass": 140, "may_split": True}
    assert left([Lot(key="a", **heavy, least_part=30)], places=2) == {}
    assert left([Lot(key="a", **heavy, least_part=101)], places=2)["a"][0] == "too_heavy"


def test_the_rest_of_a_divisible_lot_stays_for_want_of_room():
    lots = [Lot(key="a", mass=140, may_split=True, least_part=30)]
    found = Day(lots, [an_offer(lots)], {"d": 1}).plan()
    why = found.left_behind["a"]
    assert (why.mass, why.code, why.values) == (40, "no_room", {"places_left": 0, "most_kg": 0.0})


def test_places_that_are_used_up_are_no_room_with_the_room_that_is_left():
    lots = [Lot(key="big", mass=70), Lot(key="small", mass=40)]
    assert left(lots) == {"small": ("no_room", {"places_left": 0, "most_kg": 30})}


def test_kinds_that_may_not_share_are_named():
    lots = [Lot(key="big", mass=50, kind="kapenta"), Lot(key="small", mass=40, kind="bream")]
    assert left(lots, may_not_share=[("bream", "kapenta")]) == {
        "small": ("may_not_share", {"kinds": ["kapenta"]})
    }
    assert left(lots) == {}


def test_a_kind_that_may_not_share_with_itself_lies_alone():
    lots = [Lot(key=n, mass=10, kind="kapenta") for n in range(3)]
    assert len(left(lots, may_not_share=[("kapenta", "kapenta")])) == 2
    assert left(lots, may_not_share=[("kapenta", "kapenta")], places=3) == {}


def test_of_several_things_the_first_that_leaves_no_departure_is_named():
    lots = [Lot(key="a", mass=40, ready_at=20 * HOUR, deadline=45 * HOUR)]
    offers = [
        an_offer(lots, "early"),
        an_offer(lots, "late", closes_at=21 * HOUR, leaves_at=22 * HOUR, hands_over_by=50 * HOUR),
    ]
    why = Day(lots, offers, {"d": 3}).plan().left_behind["a"]
    # It is ready for the later one, which hands over too late.
    assert (why.code, why.values) == (
        "misses_deadline",
        {"deadline": 45 * HOUR, "earliest_hand_over": 50 * HOUR},
    )
