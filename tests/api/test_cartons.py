"""Carton designs over time: the version of a day, a change, a new design."""

import pytest

from coop.models import CartonDesign
from tests.api.dated_scene import TODAY, TOMORROW, WEEK, clock, refused_fields, shore
from tests.factories.materials import MaterialFactory

__all__ = ["clock", "shore"]
THICKER = {"slug": "common", "valid_from": TOMORROW, "insulation_top_m": 0.12}


@pytest.fixture
def thicker(shore):
    status, made = shore.ask.post("carton-designs/", THICKER)
    assert status == 201
    return made


def test_a_change_is_a_version_of_its_own(shore, thicker):
    assert (thicker["insulation_top_m"], thicker["insulation_left_m"]) == (0.12, 0.1)
    assert len(thicker["materials"]) == 3
    for address in ("carton-designs/common/", "carton-designs/"):
        for day, thickness in ((TODAY, 0.1), (TOMORROW, 0.12)):
            answer = shore.ask(address, on=day)[1]
            shown = answer if "slug" in answer else answer["results"][0]
            assert shown["insulation_top_m"] == thickness
    assert shore.ask("carton-designs/")[1]["count"] == 1
    assert shore.ask("carton-designs/common/")[1]["id"] == shore.design.pk


def test_versions_to_come_are_listed_from_a_day_on_and_are_withdrawn_by_what_the_list_says(shore, thicker):
    rows = shore.ask("carton-designs/", from_date=TODAY, slug="common")[1]["results"]
    [now, coming] = sorted(rows, key=lambda row: row["valid_from"])
    assert (now["id"], now["valid_until"]) == (shore.design.pk, TOMORROW)
    assert (coming["id"], coming["valid_from"], coming["insulation_top_m"]) == (thicker["id"], TOMORROW, 0.12)
    assert [row["id"] for row in shore.ask("carton-designs/", from_date=TOMORROW)[1]["results"]] == [
        thicker["id"]
    ]
    gone = shore.ask.post(f"carton-designs/{coming['slug']}/withdraw/?on={coming['valid_from']}")
    assert gone == (204, None)
    [left] = shore.ask("carton-designs/", from_date=TODAY)[1]["results"]
    assert (left["id"], left["valid_until"]) == (shore.design.pk, None)


def test_a_version_that_has_not_begun_is_withdrawn_by_its_day(shore, thicker):
    assert refused_fields(shore.ask.post("carton-designs/common/withdraw/"), 409) == ["valid_from"]
    assert shore.ask.post(f"carton-designs/common/withdraw/?on={TOMORROW}") == (204, None)
    assert list(CartonDesign.objects.all()) == [shore.design]
    assert shore.ask.post(f"carton-designs/common/withdraw/?on={TOMORROW}&by=me")[0] == 400


def test_a_design_is_ended_and_is_then_no_choice_any_more(shore):
    status, ended = shore.ask.post("carton-designs/common/end/", {"valid_until": WEEK})
    assert (status, ended["id"], ended["valid_until"]) == (200, shore.design.pk, WEEK)
    assert shore.ask("carton-designs/common/", on=WEEK)[0] == 404


def test_a_new_design_says_everything_that_cannot_be_guessed(shore):
    status, body = shore.ask.post("carton-designs/", {**THICKER, "slug": "small"})
    assert status == 400
    assert "outer_length_m" in {one["field"] for one in body["error"]["fields"]}
    bag = MaterialFactory(cooperative=shore.cooperative)
    sizes = {f"outer_{side}_m": 0.6 for side in ("length", "width", "height")}
    whole = {
        **sizes, "slug": "small", "name": "Small", "valid_from": TOMORROW, "board_thickness_m": 0.005,
        "insulation_density_kg_m3": 150, "stowage_density_kg_m3": 500,
        "materials": [{"material": bag.slug, "use": "liner_bag"}],
    }  # fmt: skip
    status, made = shore.ask.post("carton-designs/", whole)
    assert (status, made["slug"], made["materials"][0]["material"]["slug"]) == (201, "small", bag.slug)
    strange = {**whole, "slug": "other", "materials": [{"material": "gold", "use": "rope"}]}
    assert refused_fields(shore.ask.post("carton-designs/", strange)) == ["materials.0.material"]
    assert refused_fields(shore.ask.post("carton-designs/", {**THICKER, "insulation_top_m": 0.6})) == [
        "insulation_top_m"
    ]


def test_a_departure_of_each_day_is_judged_with_the_design_of_its_day(shore):
    walls = {"insulation_left_m": 0.13, "insulation_right_m": 0.13}
    assert shore.ask.post("carton-designs/", {**THICKER, **walls})[0] == 201
    asked = {
        "route": "south", "species": shore.species.code, "mass_kg": "60", "start_temperature_c": "-18",
        "from": TODAY, "to": TOMORROW,
    }  # fmt: skip
    rows = shore.ask("departures/", **asked)[1]["results"]
    assert [row["carton_design"]["slug"] for row in rows] == ["common", "common"]
    assert rows[1]["hold_best_h"] > rows[0]["hold_best_h"]
