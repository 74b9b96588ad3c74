from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from api.departures import DeparturesOut
from tests.api.asked import DAY, ids, name_of
from tests.api.test_openapi import differences
from tests.factories.buyers import BuyerFactory, ReceivingHoursFactory
from tests.factories.cartons import CartonDesignFactory
from tests.factories.places import DayWeatherFactory
from tests.factories.scene import another_vehicle, common_carton, returnable_box, thin_carton


@pytest.fixture
def clock(monkeypatch):
    def stand(instant):
        monkeypatch.setattr("api.departures.timezone.now", lambda: datetime.fromisoformat(instant))

    return stand


def test_an_answer_has_exactly_what_is_described(departures):
    assert differences(DeparturesOut(), departures()) == []


def test_an_unsafe_departure_has_exactly_what_is_described(departures):
    answer = departures(start_temperature_c="-9.3", limit="mean_c:-9")
    assert differences(DeparturesOut(), answer) == []
    assert answer["results"][0]["reason"]


def test_every_day_and_every_carton_is_one_departure(departures):
    returnable_box(departures.trade.cooperative)
    answer = departures(to="2026-03-04")
    assert answer["count"] == 6
    assert name_of(departures.trade) in ids(answer)
    assert len(set(ids(answer))) == 6


def test_what_is_not_said_is_filled_in_and_told(departures):
    trade = departures.trade
    assert departures()["question"] == {
        "route": "south",
        "from": DAY,
        "to": DAY,
        "carton_design": ["common"],
        "species": trade.species.code,
        "mass_kg": 80.0,
        "start_temperature_c": -18.0,
        "buyer": "market",
        "closes_at": "late",
        "deliver_by": None,
        "limit": "softened_share:0.05",
        "confidence": 0.95,
        "with_fish": False,
        "carrier": None,
        "safe": None,
        "min_chance": None,
        "max_cost_per_kg": None,
        "ordering": "departs_at",
    }


def test_the_limit_that_is_not_said_is_that_of_the_buyer(departures):
    trade = departures.trade
    BuyerFactory(
        cooperative=trade.cooperative,
        slug="kitchen",
        place=trade.buyer.place,
        limit__limit_kind="core_c",
        limit__limit_value=-9,
    )
    assert departures(buyer="kitchen")["question"]["limit"] == "core_c:-9"
    assert departures(buyer="kitchen", limit="mean_c:-5")["question"]["limit"] == "mean_c:-5"


def test_without_days_a_week_from_today_is_shown(departures, clock):
    clock("2026-03-02T00:30:00+02:00")
    answer = departures(**{"from": None, "to": None})
    assert (answer["question"]["from"], answer["question"]["to"]) == ("2026-03-02", "2026-03-08")
    assert answer["count"] == 7
    # Late in the evening of UTC it is tomorrow already where the cooperative is.
    clock("2026-03-01T22:30:00+00:00")
    assert departures(**{"from": None, "to": None})["question"]["from"] == "2026-03-02"


def test_what_can_no_longer_be_closed_in_time_is_left_out_unless_its_day_is_asked_for(departures, clock):
    # It leaves at 16:00, and the carton is closed 40 minutes before.
    clock("2026-03-02T15:20:00+02:00")
    assert departures(**{"from": None})["count"] == 1
    clock("2026-03-02T15:21:00+02:00")
    assert departures(**{"from": None})["count"] == 0
    assert departures(**{"from": DAY})["count"] == 1


def test_a_carton_that_is_closed_already_can_be_caught_until_the_departure(departures, clock):
    closed = {"from": None, "closes_at": "2026-03-02T15:00:00+02:00"}
    clock("2026-03-02T15:59:00+02:00")
    assert departures(**closed)["count"] == 1
    clock("2026-03-02T16:01:00+02:00")
    assert departures(**closed)["count"] == 0


def test_hours_are_those_of_the_cooperative(departures):
    [row] = departures()["results"]
    assert row["departs_at"] == "2026-03-02T16:00:00+02:00"
    assert row["closes_at"] == "2026-03-02T15:20:00+02:00"


def test_safe_is_what_reaches_the_confidence_and_only_the_rest_has_a_reason(departures):
    thin_carton(departures.trade.cooperative)
    for row in departures(mass_kg="40", confidence="0.9")["results"]:
        assert row["safe"] == (row["chance_hard"] >= 0.9)
        assert (row["reason"] is None) == row["safe"]
        assert (row["margin_h"] >= 0) == row["safe"]


def test_a_departure_that_is_sure_says_until_when_it_is_so(departures):
    [row] = departures(start_temperature_c="-25")["results"]
    assert row["safe"]
    order = [row[name] for name in ("closes_at", "departs_at", "latest_safe_departure_at")]
    assert order == sorted(order)
    assert row["close_no_earlier_than"] <= row["closes_at"]
    assert row["arrives_from"] <= row["arrives_median"] <= row["arrives_until"]
    assert row["hold_cautious_h"] <= row["hold_best_h"]


def test_the_cost_of_a_kilogram_is_the_whole_over_the_sound_kilograms(departures):
    [row] = departures()["results"]
    assert isinstance(row["cost_minor"], int)
    assert row["cost_minor"] / row["sound_kg"] == pytest.approx(row["cost_per_kg_minor"], abs=1)
    assert row["cost_per_kg_minor"] * 80 >= row["cost_minor"]
    assert row["sound_kg"] <= row["mass_kg"]


def test_buying_the_fish_is_left_out_unless_it_is_asked_for(departures):
    [without], [bought] = departures()["results"], departures(with_fish="true")["results"]
    # 80 kg at 3000 minor units, as the factory of fish prices has it.
    assert bought["cost_minor"] - without["cost_minor"] == 80 * 3000


def test_a_missing_price_leaves_the_cost_empty_and_is_named(departures):
    departures.trade.tariff.delete()
    [row] = departures()["results"]
    assert [row[name] for name in ("cost_minor", "cost_per_kg_minor", "sound_kg")] == [None, None, None]
    assert row["cost_missing"] == [f"fare of {departures.trade.carrier.name} on 2026-03-02"]


@pytest.mark.parametrize(
    ("code", "changes", "figures"),
    [
        (
            "hold_too_short",
            {"start_temperature_c": "-9.3", "limit": "mean_c:-9"},
            {"hold_cautious_h", "needed_h"},
        ),
        ("arrives_after_deadline", {"deliver_by": "2026-03-02T17:00:00+02:00"}, {"deliver_by"}),
        ("closed_too_early", {"closes_at": "2026-03-01T02:00:00+02:00"}, {"close_no_earlier_than"}),
        ("start_too_warm", {"limit": "core_c:-20"}, {"start_temperature_c", "limit_value"}),
        ("misses_departure", {"closes_at": "2026-03-02T15:50:00+02:00"}, {"departs_at"}),
    ],
)
def test_a_departure_that_is_not_safe_says_why(departures, code, changes, figures):
    [row] = departures(**changes)["results"]
    assert not row["safe"]
    assert row["reason"]["code"] == code
    assert figures <= set(row["reason"]["values"])
    assert row["reason"]["words"].endswith(".")


def test_a_buyer_who_is_shut_when_the_fish_comes_is_a_reason(departures):
    # It comes on Monday evening; nobody is there before Thursday.
    ReceivingHoursFactory(buyer=departures.trade.buyer, weekday=3)
    [row] = departures()["results"]
    assert row["reason"]["code"] == "buyer_closed"
    assert row["arrives_from"] == "2026-03-05T08:00:00+02:00"
    assert departures.trade.buyer.name in row["reason"]["words"]


def test_a_buyer_who_opens_on_one_day_a_week_is_waited_for(departures):
    ReceivingHoursFactory(buyer=departures.trade.buyer, weekday=6)
    [row] = departures()["results"]
    assert row["arrives_from"] == "2026-03-08T08:00:00+02:00"
    assert not row["safe"]


def test_what_an_answer_rests_on_is_told(departures):
    trade = departures.trade
    [row] = departures()["results"]
    assert row["rests_on"] == {"trips": 0, "insulation_measured": False, "weather": "climate"}
    trade.design.measured_on = DAY
    trade.design.save()
    for place in (trade.route.origin, trade.route.destination):
        for day in (2, 3):
            DayWeatherFactory(
                cooperative=trade.cooperative, place=place, date=f"2026-03-0{day}", kind="forecast"
            )
    [row] = departures()["results"]
    assert row["rests_on"] == {"trips": 0, "insulation_measured": True, "weather": "forecast"}


def test_weather_that_is_known_for_one_place_only_is_no_forecast(departures):
    trade = departures.trade
    DayWeatherFactory(cooperative=trade.cooperative, place=trade.route.origin, kind="forecast")
    assert departures()["results"][0]["rests_on"]["weather"] == "climate"


def test_a_stored_carton_that_cannot_be_followed_is_left_out(departures):
    CartonDesignFactory(cooperative=departures.trade.cooperative, slug="bare", insulation_top_m=0.001)
    assert {row["carton_design"]["slug"] for row in departures()["results"]} == {"common"}


def test_nothing_of_strangers_is_shown(departures, theirs_trading):
    carriers = {row["carrier"]["id"] for row in departures(to="2026-03-08")["results"]}
    assert carriers == {departures.trade.carrier.pk}


def test_few_and_many_departures_take_the_same_number_of_queries(departures):
    trade = departures.trade

    def queries(**changes):
        with CaptureQueriesContext(connection) as seen:
            count = departures(**changes)["count"]
        return len(seen), count

    few, one = queries()
    for hour in (7, 9, 11):
        another_vehicle(trade, hour)
    for number in range(3):
        common_carton(trade.cooperative, slug=f"more-{number}")
    many, more = queries(to="2026-03-04")
    assert (one, more) == (1, 4 * 4 * 3)
    assert many == few


def test_when_it_was_worked_out_is_told(departures, clock):
    clock("2026-03-01T10:00:00+00:00")
    assert departures()["worked_out_at"] == "2026-03-01T12:00:00+02:00"


def test_a_route_that_nobody_runs_has_no_departures(departures):
    departures.trade.timetable.delete()
    assert departures()["count"] == 0


def test_the_clock_is_that_of_the_machine(departures):
    worked_out = datetime.fromisoformat(departures()["worked_out_at"])
    assert abs(worked_out - datetime.now(UTC)) < timedelta(minutes=5)
