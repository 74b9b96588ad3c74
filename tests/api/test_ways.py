from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from api.ways import WaysOut
from tests.api.asked import fields_of, of_ways
from tests.api.people import asking_as, somebody
from tests.api.test_openapi import differences
from tests.factories.freezers import FreezerFactory
from tests.factories.parcels import ParcelFactory, lot_of
from tests.factories.routes import OneLegRouteFactory
from tests.factories.scene import trade
from tests.selectors.shared_carton import SHORT_WAY

COLUMNS = ("alone", "share", "wait")


@pytest.fixture
def shore(ours):
    """Our trade on a short way, where little fish stays hard, too."""
    FreezerFactory(cooperative=ours)
    return trade(ours, leg=SHORT_WAY)


@pytest.fixture
def member(ours):
    return somebody(ours)


@pytest.fixture
def ways(shore, member):
    """Asks as a member for the three ways; answers with the whole body of a good answer."""

    def get(**changes):
        status, answer = asking_as(changes.pop("who", member))("ways/", **of_ways(shore, **changes))
        assert status == 200, answer
        return answer

    return get


def by_name(answer):
    return {way["way"]: way for way in answer["ways"]}


def test_an_answer_has_exactly_what_is_described(ways):
    answer = ways()
    assert differences(WaysOut(), answer) == []
    assert [way["way"] for way in answer["ways"]] == list(COLUMNS)


def test_what_is_not_said_is_filled_in_and_told(ways, shore):
    before = timezone.now()
    question = ways()["question"]
    ready_at = datetime.fromisoformat(question.pop("ready_at"))
    assert before <= ready_at <= timezone.now() + timedelta(minutes=5)
    assert question == {
        "route": "south",
        "buyer": "market",
        "species": shore.species.code,
        "mass_kg": 20.0,
        "start_temperature_c": -18.0,
        "deliver_by": None,
        "days": 7,
        "lot": None,
    }


def zone_of(shore):
    return ZoneInfo(shore.cooperative.time_zone)


def test_each_way_says_its_cost_its_risk_and_its_day(ways):
    answer = ways()
    found = by_name(answer)
    for name in ("alone", "wait"):
        way = found[name]
        assert way["available"]
        assert way["safe"]
        assert way["cost_minor"] > 0
        assert way["cost_per_kg_minor"] * 20 >= way["cost_minor"]
        assert 0.95 <= way["chance_hard"] <= 1
        assert way["closes_at"] < way["departs_at"] < way["arrives_from"] < way["arrives_until"]
        assert way["departure"].endswith(way["carton_design"]["slug"])
        assert (way["cartons"], way["members"], way["parcel"], way["reason"]) == (1, 1, None, None)
    assert found["wait"]["departs_at"] > found["alone"]["departs_at"]
    assert found["wait"]["storage_minor"] > found["alone"]["storage_minor"]
    assert found["wait"]["kg_missing"] > 0
    assert answer["best"] == "alone"


def test_a_way_that_cannot_be_gone_says_why_and_nothing_else(ways):
    share = by_name(ways())["share"]
    words = "No shared carton is open, and no other fish waits for one."
    assert share["reason"] == {"code": "no_open_parcel", "values": {}, "words": words}
    assert share["words"] == words
    rest = {name: value for name, value in share.items() if name not in ("way", "reason", "words")}
    assert {name for name, value in rest.items() if value not in (None, False)} == set()


@pytest.mark.parametrize(
    ("changes", "code", "words"),
    [
        ({"mass_kg": "2"}, "fits_no_carton", "2 kg cannot travel alone: right is 5.1 to"),
        ({"start_temperature_c": "-2.4"}, "no_safe_departure", "No departure is safe: at best"),
    ],
)
def test_alone_says_why_not(ways, changes, code, words):
    alone = by_name(ways(**changes))["alone"]
    assert alone["reason"]["code"] == code
    assert alone["words"].startswith(words)


def test_an_offered_lot_of_a_fellow_makes_a_carton_to_share_without_telling_whose(ways, shore, member):
    fellow = somebody(shore.cooperative, name="Bwalya")
    lot_of(shore, member=fellow, mass_kg=45.0)
    answer = ways()
    share = by_name(answer)["share"]
    assert (share["members"], share["parcel"], answer["best"]) == (2, None, "share")
    assert "Bwalya" not in str(answer)


def test_an_open_parcel_is_named(ways, shore, member):
    departs_at = (
        (timezone.now() + timedelta(days=2))
        .astimezone(zone_of(shore))
        .replace(hour=16, minute=0, second=0, microsecond=0)
    )
    parcel = ParcelFactory(
        cooperative=shore.cooperative, route=shore.route, buyer=shore.buyer, timetable=shore.timetable,
        design=shore.design, departs_at=departs_at,
    )  # fmt: skip
    parcel.cartons.create(position=1, capacity_kg=100.5)
    assert by_name(ways())["share"]["parcel"] == str(parcel.uuid)
    parcel.cartons.update(capacity_kg=8)
    share = by_name(ways())["share"]
    assert share["reason"]["values"] == {"room_kg": 8.0, "mass_kg": 20.0}
    assert share["words"] == "No shared carton has room for 20 kg: 8 kg are left."


def test_a_lot_says_whose_fish_it_is_and_until_when_it_is_wanted(ways, shore, member):
    deliver_by = timezone.now() + timedelta(days=40)
    lot = lot_of(shore, member=member, deliver_by=deliver_by)
    question = ways(lot=str(lot.uuid))["question"]
    assert question["lot"] == str(lot.uuid)
    assert question["deliver_by"][:10] == deliver_by.astimezone(zone_of(shore)).date().isoformat()
    packer = somebody(shore.cooperative, "packer")
    assert ways(lot=str(lot.uuid), who=packer)["question"]["lot"] == str(lot.uuid)


def test_a_fellow_does_not_learn_of_a_lot(shore, member):
    lot = str(lot_of(shore, member=member).uuid)
    status, answer = asking_as(somebody(shore.cooperative))("ways/", **of_ways(shore, lot=lot))
    assert status == 400
    assert fields_of(answer) == [("lot", lot)]


def test_a_stranger_does_not_learn_of_a_lot_even_on_a_way_of_her_own(shore, member, theirs_trading):
    lot = str(lot_of(shore, member=member).uuid)
    stranger = asking_as(somebody(theirs_trading.cooperative, "manager"))
    status, answer = stranger("ways/", **of_ways(theirs_trading, lot=lot))
    assert status == 400
    assert fields_of(answer) == [("lot", lot)]
    assert fields_of(stranger("ways/", **of_ways(shore))[1])[0][0] in ("route", "species")


def test_a_visitor_is_told_to_enrol(ask, shore):
    assert ask("ways/", **of_ways(shore))[0] == 401


BAD = [
    ({"route": "north"}, "route", "north"),
    ({"route": None}, "route", None),
    ({"buyer": "nobody"}, "buyer", "nobody"),
    ({"species": "QQQ"}, "species", "QQQ"),
    ({"mass_kg": "nan"}, "mass_kg", "nan"),
    ({"mass_kg": "-1"}, "mass_kg", "-1"),
    ({"start_temperature_c": "-1"}, "start_temperature_c", "-1.0"),
    ({"start_temperature_c": None}, "start_temperature_c", None),
    ({"days": "0"}, "days", "0"),
    ({"days": "15"}, "days", "15"),
    ({"days": "1.5"}, "days", "1.5"),
    ({"ready_at": "tomorrow"}, "ready_at", "tomorrow"),
    ({"ready_at": "2099-01-01T00:00:00+00:00"}, "ready_at", "2099-01-01T00:00:00+00:00"),
    ({"deliver_by": "2020-01-01T00:00:00+00:00"}, "deliver_by", "2020-01-01T00:00:00+00:00"),
    ({"lot": "7"}, "lot", "7"),
    ({"lot": "875f6e64-6067-4464-86b8-3913ad9cf2d6"}, "lot", None),
    ({"weight": "20"}, "weight", "20"),
]


@pytest.mark.parametrize(("changes", "field", "value"), BAD, ids=lambda part: str(part)[:60])
def test_what_cannot_be_answered_is_refused_by_its_field_and_value(shore, member, changes, field, value):
    status, answer = asking_as(member)("ways/", **of_ways(shore, **changes))
    assert status == 400, answer
    found = {name: value and str(value) for name, value in fields_of(answer)}
    assert field in found
    assert value is None or found[field] == value
    assert all(one["right"] for one in answer["error"]["fields"])


def test_a_route_without_legs_is_named(shore, member):
    bare = OneLegRouteFactory(cooperative=shore.cooperative, slug="bare", destination=shore.route.destination)
    bare.legs.all().delete()
    status, answer = asking_as(member)("ways/", **of_ways(shore, route="bare"))
    assert status == 400
    assert fields_of(answer) == [("route", "bare")]
