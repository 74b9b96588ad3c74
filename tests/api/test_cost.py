from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from api.cost import ConsignmentOut
from api.cost_lines import NAMES
from coop.engines.costing import ORDER
from tests.api.asked import fields_of, of_cost, of_list
from tests.api.test_openapi import differences
from tests.factories.buyers import BuyerFactory
from tests.factories.charges import ChargeFactory
from tests.factories.scene import common_carton, returnable_box
from tests.factories.tariffs import TariffRuleFactory


@pytest.fixture
def cost(ask, ours_trading):
    """Asks what a consignment costs; answers with the whole body of a good answer."""

    def get(**changes):
        status, answer = ask("cost/", **of_cost(ours_trading, **changes))
        assert status == 200, answer
        return answer

    get.trade = ours_trading
    return get


def test_an_answer_has_exactly_what_is_described(cost):
    assert differences(ConsignmentOut(), cost()) == []


def test_an_answer_with_everything_has_exactly_what_is_described(cost):
    box = returnable_box(cost.trade.cooperative)
    answer = cost(carton_design=box.slug)
    assert answer["returnable"]
    assert differences(ConsignmentOut(), answer) == []
    walls = cost(thickness="true", start_temperature_c="-18")
    assert walls["thickness"]
    assert differences(ConsignmentOut(), walls) == []


def test_the_lines_sum_to_the_total(cost):
    for answer in (cost(), cost(with_fish="true", softened_share="0.1"), cost(mass_kg="500")):
        assert sum(line["amount_minor"] for line in answer["lines"]) == answer["total_minor"]
        # The kilograms are shown rounded down to a hundredth.
        assert answer["per_kg_minor"] * (answer["sound_kg"] + 0.01) >= answer["total_minor"]
        assert all(isinstance(line["amount_minor"], int) for line in answer["lines"])


def test_what_is_not_said_is_filled_in_and_told(cost, monkeypatch):
    late = datetime(2026, 3, 1, 22, 30, tzinfo=UTC)
    monkeypatch.setattr("django.utils.timezone.now", lambda: late)
    trade = cost.trade
    assert cost(on=None)["question"] == {
        "route": "south",
        "carrier": trade.carrier.pk,
        "carton_design": "common",
        "species": trade.species.code,
        "mass_kg": 80.0,
        "start_temperature_c": None,
        "cartons": 1,
        "buyer": "market",
        "on": "2026-03-02",
        "softened_share": 0.0,
        "with_fish": False,
        "thickness": False,
    }


def test_it_is_the_bill_of_the_departure(cost, ask):
    [row] = ask("departures/", **of_list(cost.trade))[1]["results"]
    answer = cost(softened_share=row["expected_softened_share"])
    # The share is shown rounded up: at most one step of it dearer than that of the departure.
    assert 0 <= answer["total_minor"] - row["cost_minor"] <= 80 * 3000 * 0.0001 + 1


def test_fish_that_softens_costs_its_lower_price_and_its_drip(cost):
    hard, soft = cost(), cost(softened_share="0.5")
    [line] = [line for line in soft["lines"] if line["code"] == "softening"]
    assert line["code"] not in {one["code"] for one in hard["lines"]}
    # 40 kg less 2.65 % of drip, at 5500 − 2500 minor units, as the factory of fish prices has it.
    assert line["amount_minor"] == pytest.approx(40 * (1 - 0.0265) * 3000, abs=1)
    assert soft["sound_kg"] == pytest.approx(80 - 40 * 0.0265, abs=0.01)


def test_the_ladder_rises_from_the_least_to_what_the_vehicle_holds(cost):
    ladder = cost()["ladder"]
    masses = [rung["mass_kg"] for rung in ladder]
    assert masses == sorted(set(masses))
    assert (masses[0], masses[-1]) == (10.0, 500.0)
    assert [rung["cartons"] for rung in ladder] == sorted(rung["cartons"] for rung in ladder)
    second = next(rung for rung in ladder if rung["cartons"] == 2)
    assert second["break"]


def test_a_ladder_holds_the_cost_of_its_weights(cost):
    rung = next(rung for rung in cost()["ladder"] if rung["mass_kg"] == 150.0)
    alone = cost(mass_kg="150")
    assert (rung["total_minor"], rung["per_kg_minor"]) == (alone["total_minor"], alone["per_kg_minor"])


def test_from_the_weight_that_pays_on_it_pays(cost):
    answer = cost()
    # Sold at 5500, bought at 3000, as the factory of fish prices has it.
    pays = next(rung["mass_kg"] for rung in answer["ladder"] if rung["per_kg_minor"] <= 2500)
    assert answer["break_even_kg"] == pays


def test_the_price_confirmed_longest_ago_is_told(cost):
    assert cost()["confirmed_on"] == "2025-01-01"


def test_as_many_cartons_are_reckoned_as_are_asked_for(cost):
    two = cost(cartons="2")
    assert two["question"]["cartons"] == 2
    assert next(line for line in two["lines"] if line["code"] == "fare_per_carton")["quantity"] == 2


def test_the_cheapest_count_of_cartons_is_no_dearer_than_any_other(cost):
    cheapest = cost(mass_kg="300")["cheapest_cartons"]
    for cartons in (3, 4, 5, 6):
        assert cheapest["per_kg_minor"] <= cost(mass_kg="300", cartons=cartons)["per_kg_minor"]


def test_a_missing_price_leaves_every_sum_empty_and_is_named(cost):
    cost.trade.tariff.delete()
    answer = cost()
    assert answer["cost_missing"] == [f"fare of {cost.trade.carrier.name} on 2026-03-02"]
    assert [answer[name] for name in ("total_minor", "sound_kg", "per_kg_minor", "break_even_kg")] == [
        None
    ] * 4
    assert (answer["lines"], answer["ladder"], answer["cheapest_cartons"]) == ([], [], None)
    assert differences(ConsignmentOut(), answer) == []


def test_thicknesses_are_compared_only_if_that_is_asked_for(cost):
    assert cost()["thickness"] is None
    found = cost(thickness="true", start_temperature_c="-18")["thickness"]
    walls = found["walls"]
    assert [wall["thickness_m"] for wall in walls] == [0.04, 0.06, 0.08, 0.1, 0.12, 0.14, 0.16]
    cheapest = min(walls, key=lambda wall: wall["per_kg_minor"])
    assert found["cheapest_m"] == cheapest["thickness_m"]


def test_a_box_is_compared_and_a_carton_that_stays_is_not(cost):
    returnable_box(cost.trade.cooperative)
    assert cost()["returnable"] is None
    assert cost(carton_design="box")["returnable"]["against"]["slug"] == "common"


def test_a_line_without_a_name_of_its_own_is_named_by_what_it_is(cost):
    names = {line["code"]: line["name"] for line in cost()["lines"]}
    assert names["fare_per_carton"] == NAMES["fare_per_carton"]
    assert names["levy"] == cost.trade.cooperative.charges.get().name


def test_every_kind_of_line_has_a_name(cost):
    trade = cost.trade
    for position, rule in enumerate(
        (
            {"kind": "per_kilogram"},
            {"kind": "per_volume"},
            {"kind": "per_volumetric_kilogram", "volumetric_divisor_cm3_per_kg": 6000},
            {"kind": "per_seat", "seats_per_carton": 2},
            {"kind": "return_of_empty"},
            {"kind": "surcharge", "amount_minor": 0, "surcharge_share": 0.1},
        ),
        2,
    ):
        TariffRuleFactory(tariff=trade.tariff, position=position, **rule)
    for kind in ("handling", "papers", "receiver"):
        ChargeFactory(cooperative=trade.cooperative, kind=kind)
    box = returnable_box(trade.cooperative)
    lines = cost(carton_design=box.slug, with_fish="true", softened_share="0.01")["lines"]
    assert {line["code"] for line in lines} == set(ORDER) - {"fare_by_step"}
    assert all(line["name"] for line in lines)
    assert "fare_by_step" in NAMES


BAD = [
    ({"route": "nowhere"}, "route", "nowhere"),
    ({"route": None}, "route", None),
    ({"carrier": "4000000"}, "carrier", "4000000"),
    ({"carrier": "minibus"}, "carrier", "minibus"),
    ({"carrier": None}, "carrier", None),
    ({"carton_design": "paper-bag"}, "carton_design", "paper-bag"),
    ({"carton_design": ["common", "common"]}, "carton_design", "common, common"),
    ({"species": "QQQ"}, "species", "QQQ"),
    ({"mass_kg": "604"}, "mass_kg", "604.0"),
    ({"mass_kg": "1"}, "mass_kg", "1.0"),
    ({"mass_kg": "-80"}, "mass_kg", "-80"),
    ({"mass_kg": "nan"}, "mass_kg", "nan"),
    ({"mass_kg": None}, "mass_kg", None),
    ({"on": "today"}, "on", "today"),
    ({"on": "0001-01-01"}, "on", "0001-01-01"),
    ({"buyer": "nobody"}, "buyer", "nobody"),
    ({"buyer": "elsewhere"}, "buyer", "elsewhere"),
    ({"softened_share": "1.5"}, "softened_share", "1.5"),
    ({"softened_share": "nan"}, "softened_share", "nan"),
    ({"with_fish": "2"}, "with_fish", "2"),
    ({"cartons": "0"}, "cartons", "0"),
    ({"cartons": "7"}, "cartons", "7"),
    ({"cartons": "1", "mass_kg": "500"}, "cartons", "1"),
    ({"cartons": "5", "mass_kg": "20"}, "cartons", "5"),
    ({"thickness": "true"}, "start_temperature_c", None),
    ({"thickness": "true", "start_temperature_c": "-1"}, "start_temperature_c", "-1.0"),
    ({"start_temperature_c": "40"}, "start_temperature_c", "40.0"),
    ({"weight": "80"}, "weight", "80"),
]


@pytest.mark.parametrize(("changes", "field", "value"), BAD, ids=lambda part: str(part)[:60])
def test_what_cannot_be_answered_is_refused_by_its_field_and_value(ask, ours_trading, changes, field, value):
    BuyerFactory(cooperative=ours_trading.cooperative, slug="elsewhere")
    status, answer = ask("cost/", **of_cost(ours_trading, **changes))
    assert status == 400, answer
    assert (field, value) in fields_of(answer)
    assert all(one["right"] for one in answer["error"]["fields"])


@pytest.mark.parametrize("field", ["route", "buyer", "carton_design", "carrier"])
def test_what_belongs_to_strangers_is_as_unknown_as_what_does_not_exist(
    ask, ours_trading, theirs_trading, field
):
    theirs = getattr(theirs_trading, {"carton_design": "design"}.get(field, field))
    value = theirs.pk if field == "carrier" else theirs.slug
    status, answer = ask("cost/", **of_cost(ours_trading, **{field: value}))
    assert (status, fields_of(answer)) == (400, [(field, str(value))])


def test_few_and_many_prices_take_the_same_number_of_queries(cost):
    def queries(**changes):
        with CaptureQueriesContext(connection) as seen:
            cost(**changes)
        return len(seen)

    few = queries()
    for number in range(10):
        common_carton(cost.trade.cooperative, slug=f"more-{number}")
        ChargeFactory(cooperative=cost.trade.cooperative)
        TariffRuleFactory(tariff=cost.trade.tariff, position=number + 2)
    assert queries() == few
