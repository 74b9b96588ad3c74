import pytest

from api.hold import HoldOut
from tests.api.asked import fields_of, of_hold
from tests.api.test_openapi import differences
from tests.factories.cartons import CartonDesignFactory
from tests.factories.places import ClimateFactory, PlaceFactory
from tests.factories.scene import returnable_box

ANY = {
    "carton_design": None,
    "outer_length_m": "1",
    "outer_width_m": "0.7",
    "outer_height_m": "0.7",
}
"""The common carton by its sizes."""


@pytest.fixture
def hold(ask, ours_trading):
    """Asks how long a carton holds; answers with the whole body of a good answer."""

    def get(**changes):
        status, answer = ask("hold/", **of_hold(ours_trading, **changes))
        assert status == 200, answer
        return answer

    get.trade = ours_trading
    return get


def chosen(answer):
    return next(one for one in answer["hold"] if one["chosen"])


def test_an_answer_has_exactly_what_is_described(hold):
    assert differences(HoldOut(), hold()) == []


def test_a_carton_holds_the_same_by_its_name_and_by_its_sizes(hold):
    stored, built = hold(), hold(**ANY, stowage_density_kg_m3="530")
    assert built["hold"] == stored["hold"]
    assert built["curve"] == stored["curve"]


def test_what_is_not_said_is_filled_in_and_told(hold):
    assert hold(**ANY)["question"] == {
        "species": hold.trade.species.code,
        "mass_kg": 80.0,
        "start_temperature_c": -18.0,
        "outer_length_m": 1.0,
        "outer_width_m": 0.7,
        "outer_height_m": 0.7,
        "insulation_m": 0.1,
        "insulation_density_kg_m3": 150.0,
        "insulation_specific_heat_j_kg_k": 1600.0,
        "stowage_density_kg_m3": 500.0,
        "board_thickness_m": 0.005,
        "board_conductivity_w_m_k": 0.08,
        "conductivity_cv": 0.25,
        "outside_max_c": 29.0,
        "outside_min_c": 17.0,
        "cloud_share": 0.5,
        "ride": "shade",
        "offset_c": 0.0,
        "closes_at_hour": 16.0,
        "limit": "softened_share:0.05",
        "confidence": 0.95,
    }


def test_several_limits_are_answered_at_once_the_one_asked_for_first(hold):
    rows = hold(limit="core_c:-7")["hold"]
    assert (rows[0]["kind"], rows[0]["value"], rows[0]["chosen"]) == ("core_c", -7.0, True)
    assert {one["kind"] for one in rows} == {"softened_share", "core_c", "mean_c", "warmest_c"}
    core = {one["value"]: one["hold_best_h"] for one in rows if one["kind"] == "core_c"}
    by_limit = [core[value] for value in sorted(core)]
    assert by_limit == sorted(by_limit)


@pytest.mark.parametrize(
    ("worse", "better"),
    [
        ({"outside_max_c": "35", "outside_min_c": "25"}, {}),
        ({"ride": "sun", "cloud_share": "0"}, {}),
        ({"ride": "cabin", "offset_c": "10"}, {"ride": "cabin"}),
        ({}, {"start_temperature_c": "-25"}),
        ({**ANY, "insulation_m": "0.06"}, {**ANY, "insulation_m": "0.08"}),
        ({**ANY, "insulation_density_kg_m3": "80"}, {**ANY, "insulation_density_kg_m3": "180"}),
        ({**ANY, "insulation_conductivity_w_m_k": "0.1"}, {**ANY, "insulation_conductivity_w_m_k": "0.06"}),
        ({**ANY, "insulation_left_m": "0.05"}, ANY),
    ],
)
def test_heat_and_poor_walls_never_make_it_hold_longer(hold, worse, better):
    one, other = chosen(hold(**worse)), chosen(hold(**better))
    assert one["hold_best_h"] < other["hold_best_h"]
    assert one["hold_cautious_h"] <= other["hold_cautious_h"]


def test_the_more_has_to_be_sure_the_shorter_it_is_said_to_hold(hold):
    holds = [chosen(hold(confidence=value))["hold_cautious_h"] for value in ("0.5", "0.9", "0.99")]
    assert holds == sorted(holds, reverse=True)
    assert holds[0] > holds[-1]
    even = chosen(hold(confidence="0.5"))
    assert even["hold_cautious_h"] == even["hold_best_h"]


def test_a_wall_of_which_less_is_known_holds_surely_for_less(hold):
    known, unknown = (chosen(hold(conductivity_cv=cv)) for cv in ("0.05", "0.5"))
    assert unknown["hold_cautious_h"] < known["hold_cautious_h"]
    assert unknown["hold_best_h"] == known["hold_best_h"]


def test_a_month_at_a_place_is_weather_too(hold):
    place = PlaceFactory(code="mbala")
    ClimateFactory(place=place, month=7, temperature_max_c=24, temperature_min_c=10)
    month = {"outside_max_c": None, "outside_min_c": None, "place": "mbala", "month": "7"}
    assert chosen(hold(**month))["hold_best_h"] > chosen(hold())["hold_best_h"]
    assert max(hold(**month)["curve"]["air_c"]) <= 24


def test_a_limit_that_is_never_passed_has_no_hour(hold):
    cold = {"outside_max_c": "-10", "outside_min_c": "-20"}
    assert chosen(hold(**cold))["hold_best_h"] is None


BAD = [
    ({"carton_design": "paper-bag"}, "carton_design", "paper-bag"),
    ({"carton_design": None}, "outer_length_m", None),
    ({"outer_length_m": "1"}, "outer_length_m", "1.0"),
    ({"insulation_m": "0.1"}, "insulation_m", "0.1"),
    ({"stowage_density_kg_m3": "500"}, "stowage_density_kg_m3", "500.0"),
    ({**ANY, "outer_length_m": "10"}, "outer_length_m", "10"),
    ({**ANY, "outer_height_m": None}, "outer_height_m", None),
    ({**ANY, "outer_height_m": "0.2"}, "outer_height_m", "0.2"),
    ({**ANY, "insulation_m": "0"}, "insulation_m", "0"),
    ({**ANY, "insulation_m": "0.35"}, "outer_width_m", "0.7"),
    ({**ANY, "insulation_top_m": "0.001"}, "insulation_top_m", "0.001"),
    ({**ANY, "insulation_top_m": "0.6"}, "insulation_top_m", "0.6"),
    ({**ANY, "insulation_density_kg_m3": "60"}, "insulation_density_kg_m3", "60.0"),
    ({**ANY, "insulation_density_kg_m3": "-150"}, "insulation_density_kg_m3", "-150"),
    ({**ANY, "insulation_conductivity_w_m_k": "3"}, "insulation_conductivity_w_m_k", "3"),
    (
        {**ANY, "insulation_conductivity_w_m_k": "2", "insulation_m": "0.005"},
        "insulation_conductivity_w_m_k",
        "2.0",
    ),
    ({**ANY, "insulation_specific_heat_j_kg_k": "0"}, "insulation_specific_heat_j_kg_k", "0"),
    ({**ANY, "stowage_density_kg_m3": "1000"}, "stowage_density_kg_m3", "1000.0"),
    ({**ANY, "board_thickness_m": "0.4"}, "outer_length_m", "1.0"),
    ({**ANY, "board_conductivity_w_m_k": "0"}, "board_conductivity_w_m_k", "0"),
    ({**ANY, "mass_kg": "500"}, "mass_kg", "500.0"),
    ({**ANY, "mass_kg": "1"}, "mass_kg", "1.0"),
    ({"mass_kg": "500"}, "mass_kg", "500.0"),
    ({"mass_kg": "nan"}, "mass_kg", "nan"),
    ({"mass_kg": None}, "mass_kg", None),
    ({"species": "QQQ"}, "species", "QQQ"),
    ({"start_temperature_c": "40"}, "start_temperature_c", "40.0"),
    ({"start_temperature_c": None}, "start_temperature_c", None),
    ({"conductivity_cv": "2"}, "conductivity_cv", "2"),
    ({"outside_max_c": "70"}, "outside_max_c", "70"),
    ({"outside_max_c": "10"}, "outside_min_c", "17.0"),
    ({"outside_max_c": None}, "outside_max_c", None),
    ({"outside_max_c": None, "outside_min_c": None}, "outside_max_c", None),
    ({"cloud_share": "1.5"}, "cloud_share", "1.5"),
    ({"place": "mbala", "month": "7"}, "outside_max_c", "29.0"),
    ({"outside_max_c": None, "outside_min_c": None, "place": "mbala"}, "month", None),
    ({"outside_max_c": None, "outside_min_c": None, "month": "7"}, "place", None),
    ({"outside_max_c": None, "outside_min_c": None, "place": "no", "month": "7"}, "place", "no"),
    ({"outside_max_c": None, "outside_min_c": None, "place": "mbala", "month": "7"}, "month", "7"),
    ({"outside_max_c": None, "outside_min_c": None, "place": "mbala", "month": "13"}, "month", "13"),
    (
        {"outside_max_c": None, "outside_min_c": None, "place": "mbala", "month": "1", "cloud_share": "1"},
        "cloud_share",
        "1.0",
    ),
    ({"outside_max_c": None, "outside_min_c": None, "place": "oven", "month": "1"}, "place", "oven"),
    ({"ride": "bicycle"}, "ride", "bicycle"),
    ({"offset_c": "5"}, "offset_c", "5.0"),
    ({"ride": "cabin", "offset_c": "99"}, "offset_c", "99"),
    ({"closes_at_hour": "25"}, "closes_at_hour", "25"),
    ({"limit": "cold"}, "limit", "cold"),
    ({"confidence": "1"}, "confidence", "1"),
    ({"weight": "80"}, "weight", "80"),
]


@pytest.mark.parametrize(("changes", "field", "value"), BAD, ids=lambda part: str(part)[:60])
def test_what_cannot_be_answered_is_refused_by_its_field_and_value(ask, ours_trading, changes, field, value):
    ClimateFactory(place=PlaceFactory(code="mbala"), month=1)
    ClimateFactory(place=PlaceFactory(code="oven"), month=1, temperature_max_c=60)
    status, answer = ask("hold/", **of_hold(ours_trading, **changes))
    assert status == 400, answer
    assert (field, value) in fields_of(answer)
    assert all(one["right"] for one in answer["error"]["fields"])


def test_walls_that_leave_no_room_are_told_how_much_they_take(ask, ours_trading):
    asked = of_hold(ours_trading, **ANY, insulation_left_m="0.5", insulation_right_m="0.5")
    [one] = ask("hold/", **asked)[1]["error"]["fields"]
    assert (one["field"], one["right"]) == ("outer_length_m", "more than 1.01 m")


def test_a_design_of_strangers_does_not_exist(ask, ours_trading, theirs_trading):
    status, answer = ask("hold/", **of_hold(ours_trading, carton_design=theirs_trading.design.slug))
    assert (status, fields_of(answer)) == (400, [("carton_design", "their-carton")])


def test_a_stored_carton_that_cannot_be_followed_is_refused(ask, ours_trading):
    CartonDesignFactory(cooperative=ours_trading.cooperative, slug="bare", insulation_top_m=0.001)
    assert fields_of(ask("hold/", **of_hold(ours_trading, carton_design="bare"))[1]) == [
        ("carton_design", "bare")
    ]


def test_a_stored_carton_is_as_uncertain_as_was_stored(hold):
    returnable_box(hold.trade.cooperative, insulation_conductivity_cv=0.15)
    assert hold(carton_design="box")["question"]["conductivity_cv"] == 0.15
    assert hold(carton_design="box", conductivity_cv="0.4")["question"]["conductivity_cv"] == 0.4
