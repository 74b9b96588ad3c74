"""What a phone is told to work bills out with, and the bills that its own arithmetic must reach."""

import random
from datetime import date

import pytest

from api.cost_lines import cost_of
from api.reckoning import bill_of as told
from coop.engines.carton import capacity
from coop.engines.carton_choice import fewest_cartons
from coop.selectors.cost import bill_of, ladder_of, prices_for
from coop.selectors.engine_inputs import carton_of
from coop.selectors.reckoning_bill import bill_terms
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import returnable_box, trade
from tests.selectors.reckoning_scenes import MONDAY, scene
from tests.vectors import plain, stored

pytestmark = pytest.mark.django_db

OLD = date(2025, 6, 1)
SCENES, WEIGHTS = 16, 9


def prices_of(made):
    return prices_for(made.cooperative, made.route, made.buyer, made.species)


def terms_of(made, **more):
    return bill_terms(prices_of(made), carrier=made.carrier, design=made.design, day=MONDAY, **more)


def questions(draw, fits, places):
    """Weights with the number of cartons and the ten thousandths that soften, edges among them."""
    edges = [fits, fits * places, round(fits * 0.051, 3), 40.0, 0.5 * places * fits]
    weights = edges + [round(draw.uniform(0.06 * fits, places * fits), 2) for _ in range(WEIGHTS)]
    for mass in weights:
        yield mass, fewest_cartons(mass, capacity=fits), draw.choice([0, 1, 377, draw.randint(0, 10_000)])


def answer(made, prices, mass, cartons, soft, with_fish):
    found = bill_of(
        prices, carrier=made.carrier, design=made.design, mass_kg=mass, cartons=cartons, day=MONDAY,
        softened_share=soft / 10_000, with_fish=with_fish,
    )  # fmt: skip
    told = cost_of(found, (), None, "ZMW", before=OLD)
    lines = [
        [line[name] for name in ("code", "amount_minor", "unit", "rate_minor")] for line in told["lines"]
    ]
    return {name: told[name] for name in ("total_minor", "per_kg_minor", "sound_kg", "old_prices")} | {
        "lines": lines
    }


def case(seed):
    draw = random.Random(seed)
    made, with_fish, prices = scene(draw), draw.random() < 0.3, None
    prices = prices_of(made)
    with_fish = with_fish and bool(prices.fish_prices)
    terms, fits = told(terms_of(made, with_fish=with_fish), OLD), capacity(carton_of(made.design))
    asked = list(questions(draw, fits, made.carrier.carton_places))
    ladder, pays = ladder_of(
        prices, carrier=made.carrier, design=made.design, capacity_kg=fits,
        most_cartons=made.carrier.carton_places, day=MONDAY, softened_share=0.0123, with_fish=with_fish,
    )  # fmt: skip
    return {
        "terms": terms,
        "asked": asked,
        "answers": [answer(made, prices, *one, with_fish) for one in asked],
        "ladder": [[float(r.mass), r.cartons, r.total, r.per_kilogram, r.is_break] for r in ladder],
        "pays_from_kg": pays and float(pays),
    }


def test_the_stored_bills_are_those_that_python_works_out_now():
    cases = [case(seed) for seed in range(SCENES)]
    assert stored("bills", cases) == plain(cases)


def test_every_kind_of_line_is_among_the_stored_bills():
    codes = {line[0] for one in stored("bills") for found in one["answers"] for line in found["lines"]}
    assert codes >= {
        *("fare_per_carton", "fare_per_kilogram", "fare_by_step", "fare_per_volume", "fare_per_seat"),
        *("fare_per_volumetric_kilogram", "fare_surcharge", "return_of_empty", "softening", "material"),
        *("fish", "labour", "levy", "papers", "receiver", "handling", "freezing_energy"),
    }


def test_only_what_the_load_changes_is_left_to_the_phone():
    lines = terms_of(trade(CooperativeFactory())).lines
    assert [line["by_load"] for line in lines if "by_load" in line] == ["sacks", "thin_bags"]
    assert all(("quantity" in line) or ("by_load" in line) or ("claims" in line) for line in lines)


def test_a_box_that_comes_back_is_told_with_its_trips():
    made = trade(CooperativeFactory())
    made.design = returnable_box(made.cooperative)
    [box] = [line for line in terms_of(made).lines if line.get("name") == "Box"]
    assert (box["trips"], box["loss_chance"]) == (60, "1/50")


def test_without_a_fare_there_are_no_lines_and_it_says_what_is_missing():
    made = trade(CooperativeFactory())
    made.tariff.delete()
    found = terms_of(made)
    assert found.lines == ()
    assert "fare of" in found.missing[0]
