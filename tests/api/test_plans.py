"""A plan is asked for, seen and accepted by whoever packs; who stays behind is told why."""

import ast
from pathlib import Path
from uuid import uuid4

import pytest

from api.plans_shapes import PlanOut
from api.plans_words import NEVER, REASONS, words_of
from coop.engines import left_behind
from coop.selectors import plans as plans_selector
from tests.api.packing_scene import MONDAY, clock, day, made, offered
from tests.api.test_openapi import differences

__all__ = ["clock", "day"]

MASSES = {"anna": 20.0, "bwalya": 35.0, "chanda": 45.0}


@pytest.fixture
def lots(day):
    return {who: offered(day, who, mass_kg) for who, mass_kg in MASSES.items()}


def plan_body(day, **changes):
    return {"route": "south", "buyer": "market", "from": MONDAY, "to": MONDAY} | changes


def planned(day, **changes):
    return made(day.packer.post("plans/", plan_body(day, **changes)))


def test_a_plan_fills_a_carton_with_all_three_and_is_accepted_once(day, lots):
    plan = planned(day)
    assert differences(PlanOut(), plan) == []
    [carton] = plan["cartons"]
    assert {part["member"]["name"].lower(): part["mass_kg"] for part in carton["parts"]} == MASSES
    assert (carton["mass_kg"], plan["mass_kg"], plan["left_behind"]) == (100.0, 100.0, [])
    assert carton["departs_at"] == "2026-03-02T16:00:00+02:00"
    assert carton["closes_at"] == "2026-03-02T15:20:00+02:00"
    assert carton["cost_minor"] == plan["cost_minor"] >= plan["bound_minor"]
    assert 100 * (plan["cost_per_kg_minor"] - 1) < plan["cost_minor"] <= 100 * plan["cost_per_kg_minor"]
    assert (plan["accepted_at"], plan["stale"]) == (None, False)

    [parcel] = made(day.packer.post(f"plans/{plan['id']}/accept/"), 200)["parcels"]
    assert (parcel["state"], parcel["mass_kg"], parcel["departure"]) == ("open", 100.0, carton["departure"])
    assert made(day.packer(f"parcels/{parcel['id']}/"), 200)["cost_minor"] == plan["cost_minor"]
    again = made(day.packer(f"plans/{plan['id']}/"), 200)
    assert (again["accepted_at"], again["stale"]) == ("2026-03-01T14:00:00+02:00", False)
    assert day.packer.post(f"plans/{plan['id']}/accept/")[0] == 409
    assert made(day.packer("parcels/"), 200)["count"] == 1


def test_a_plan_whose_lots_have_changed_is_out_of_date_and_does_nothing(day, lots):
    plan = planned(day)
    day.anna.post(f"lots/{lots['anna']['id']}/withdraw/")
    assert made(day.packer(f"plans/{plan['id']}/"), 200)["stale"] is True
    status, answer = day.packer.post(f"plans/{plan['id']}/accept/")
    assert (status, answer["error"]["code"]) == (409, "conflict")
    assert made(day.packer("parcels/"), 200)["count"] == 0


def test_the_same_plan_asked_again_is_the_first(day, clock, lots):
    body = plan_body(day, id=str(uuid4()))
    first = made(day.packer.post("plans/", body))
    clock.later(minutes=3)
    assert made(day.packer.post("plans/", body), 200) == first
    assert day.manager.post("plans/", body)[0] == 409


def test_a_lot_that_is_not_ready_stays_and_is_told_why(day, lots):
    late = offered(day, "esther", 10.0, ready_at="2026-03-03T06:00:00+02:00")
    [left] = planned(day)["left_behind"]
    assert (left["lot"], left["mass_kg"], left["code"]) == (late["id"], 10.0, "not_ready")
    assert left["values"] == {
        "ready_at": "2026-03-03T06:00:00+02:00",
        "last_closing": "2026-03-02T15:20:00+02:00",
    }
    assert left["words"].startswith("It is ready only at 2026-03-03 06:00")


def test_nothing_to_send_is_an_empty_plan_that_cannot_be_accepted(day):
    plan = planned(day)
    assert (plan["cartons"], plan["left_behind"]) == ([], [])
    assert (plan["cost_minor"], plan["cost_per_kg_minor"]) == (0, None)
    assert day.packer.post(f"plans/{plan['id']}/accept/")[0] == 409


REFUSED = [
    ({"from": "2026-02-27"}, "from"),
    ({"to": "2026-03-01"}, "to"),
    ({"to": "2026-04-30"}, "to"),
    ({"to": None}, "to"),
    ({"from": 20260302}, "from"),
    ({"route": "north"}, "route"),
    ({"buyer": "nobody"}, "buyer"),
    ({"days": 3}, "days"),
]


@pytest.mark.parametrize(("changes", "field"), REFUSED, ids=str)
def test_what_cannot_be_planned_is_refused_by_its_field(day, changes, field):
    status, answer = day.packer.post("plans/", plan_body(day, **changes))
    assert (status, [one["field"] for one in answer["error"]["fields"]]) == (400, [field])


def codes_in(module):
    """Texts of a module that are codes of reasons."""
    tree = ast.parse(Path(module.__file__).read_text())
    texts = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant)}
    return {text for text in texts if isinstance(text, str) and text in REASONS}


def test_every_reason_has_words_and_every_word_a_reason():
    assert codes_in(left_behind) | codes_in(plans_selector) == set(REASONS)


FIGURES = {
    "not_ready": {"ready_at": "2026-03-03T06:00:00+02:00", "last_closing": "2026-03-02T15:20:00+02:00"},
    "misses_deadline": {
        "deadline": "2026-03-02T18:00:00+02:00",
        "earliest_hand_over": "2026-03-03T09:12:31.5+02:00",
    },
    "too_heavy": {"mass_kg": 120.0, "most_kg": 100.5},
    "too_bulky": {"volume_m3": 0.5, "most_m3": 0.2},
    "too_little_to_stay_hard": {"mass_kg": 5.0, "least_mass_kg": 40.0},
}


@pytest.mark.parametrize("code", REASONS)
def test_words_carry_the_figures(code):
    values = FIGURES.get(code, {})
    words = words_of(code, values)
    assert words.endswith(".")
    assert "{" not in words
    for value in values.values():
        assert (f"{value[:10]} {value[11:16]}" if isinstance(value, str) else f"{value:g}") in words


def test_fish_that_is_never_handed_over_is_not_told_an_hour():
    values = FIGURES["misses_deadline"] | {"earliest_hand_over": None}
    assert words_of("misses_deadline", values) == NEVER.format(deadline="2026-03-02 18:00")
