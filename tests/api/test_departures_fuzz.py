"""Whatever is asked of what is worked out, the answer is one: never a fault of ours."""

import json

import pytest
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from api.cost_question import ConsignmentQuestion
from api.departures_question import DepartureQuestion, DeparturesQuestion
from api.hold_question import HoldQuestion
from tests.api.asked import name_of, of_cost, of_hold, of_list, of_one
from tests.factories.scene import returnable_box

ODD = (
    *("", " ", "0", "-0", "-1", "1", "2", "1.5", "80", "1e3", "1e308", "1e400", "nan", "inf", "-inf", "0x10"),
    *("true", "false", "null", "None", "[]", "{}", "late", "common", "box", "south", "market", "\x00", "é"),
    *("-18", "-2.3", "-40", "-45", "40", "100", "0.5", "0.999", "0.05", "9" * 40, "x" * 2000, "' OR 1=1"),
    *("2026-03-02", "2026-03-09", "2026-13-01", "0001-01-01", "9999-12-31", "1", "٣", "../.."),
    *("2026-03-02T12:00:00+02:00", "2026-03-01T00:00:00Z", "2026-03-02T24:00:00Z"),
    *("2100-12-31T23:59:59-12:00", "2026-03-02T16:00:00"),
    *("softened_share:0.05", "softened_share:0.001", "core_c:-0.5", "mean_c:-40", "warmest_c:-5", "core_c:x"),
    *("roof", "cabin", "sun", "hold", "-chance_hard", "margin_h", "mbala"),
)
ASKED = {
    "list": DeparturesQuestion,
    "one": DepartureQuestion,
    "hold": HoldQuestion,
    "cost": ConsignmentQuestion,
}
VALUES = st.one_of(st.sampled_from(ODD), st.lists(st.sampled_from(ODD), max_size=2), st.text(max_size=12))
NOTHING = object()
bounded = settings(
    max_examples=120,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
SIZES = {"outer_length_m": "1", "outer_width_m": "0.7", "outer_height_m": "0.7"}


def changed(question, changes):
    """A question with some of its parameters changed and some left out."""
    return {name: value for name, value in (question | changes).items() if value is not NOTHING}


@pytest.fixture
def questions(ours_trading):
    """Address and question of each kind, all of which are answered as they stand."""
    returnable_box(ours_trading.cooperative)
    return {
        "list": ("departures/", of_list(ours_trading)),
        "one": (f"departures/{name_of(ours_trading)}/", of_one(ours_trading)),
        "hold": ("hold/", of_hold(ours_trading)),
        "cost": ("cost/", of_cost(ours_trading)),
    }


def answered(address, query):
    """The status, once the answer is known to be one: JSON without NaN, in one of the two shapes."""
    response = Client().get(f"/api/v1/{address}", query)
    body = json.loads(response.content, parse_constant=pytest.fail)
    assert response.status_code in (200, 400)
    assert ("error" in body) == (response.status_code == 400)
    if response.status_code == 400:
        assert all(one["right"] for one in body["error"]["fields"])
    return response.status_code


@pytest.mark.parametrize("kind", ASKED)
def test_the_question_that_is_changed_is_a_good_one(questions, kind):
    assert answered(*questions[kind]) == 200


@pytest.mark.parametrize("kind", ASKED)
@bounded
@given(data=st.data())
def test_no_question_is_a_fault_of_ours(questions, kind, data):
    address, question = questions[kind]
    names = st.sampled_from([*ASKED[kind]().fields, "weight"])
    values = st.one_of(st.just(NOTHING), VALUES)
    changes = data.draw(st.dictionaries(names, values, min_size=1, max_size=3))
    answered(address, changed(question, changes))


@bounded
@given(
    walls=st.lists(st.floats(0.005, 0.2), min_size=6, max_size=6),
    outer=st.lists(st.floats(0.3, 2.5), min_size=3, max_size=3),
    density=st.floats(5, 1000),
    conductivity=st.one_of(st.none(), st.floats(0.005, 2)),
    heat=st.floats(500, 4200),
    stowage=st.floats(100, 950),
    board=st.floats(0, 0.05),
    share=st.floats(0.05, 1),
    ride=st.sampled_from(["shade", "sun", "roof", "cabin", "hold"]),
    outside=st.lists(st.floats(-20, 50), min_size=2, max_size=2),
)
def test_no_carton_within_its_bounds_is_a_fault_of_ours(
    questions, walls, outer, density, conductivity, heat, stowage, board, share, ride, outside
):
    faces = ("left", "right", "front", "back", "bottom", "top")
    _, fish = questions["hold"]
    asked = {name: fish[name] for name in ("species", "start_temperature_c")}
    asked |= dict(zip(SIZES, outer, strict=True))
    asked |= {f"insulation_{face}_m": wall for face, wall in zip(faces, walls, strict=True)}
    asked |= {"insulation_density_kg_m3": density, "insulation_specific_heat_j_kg_k": heat}
    asked |= {"stowage_density_kg_m3": stowage, "board_thickness_m": board, "ride": ride}
    asked |= {"outside_min_c": min(outside), "outside_max_c": max(outside)}
    if conductivity is not None:
        asked["insulation_conductivity_w_m_k"] = conductivity
    room = 1.0
    for axis, (low, high) in enumerate((walls[:2], walls[2:4], walls[4:])):
        room *= max(outer[axis] - low - high - 2 * board, 0.01)
    asked["mass_kg"] = max(0.1, share * room * stowage)
    answered("hold/", asked)
