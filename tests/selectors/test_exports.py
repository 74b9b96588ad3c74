from datetime import date, time

import pytest

from coop.selectors import exports
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.factories.tariffs import ByStepRuleFactory, TariffStepFactory

pytestmark = pytest.mark.django_db
EVERY = (
    exports.charge_lines,
    exports.fare_lines,
    exports.fish_price_lines,
    exports.material_price_lines,
    exports.member_lines,
    exports.timetable_lines,
)


@pytest.fixture
def shore():
    return trade(CooperativeFactory())


def test_a_fare_has_a_line_for_each_rule_and_for_each_step(shore):
    by_step = ByStepRuleFactory(tariff=shore.tariff, position=2)
    for from_kg in (50.0, 0.0):
        TariffStepFactory(rule=by_step, from_kg=from_kg, amount_minor=int(from_kg) + 7)
    lines = list(exports.fare_lines(shore.cooperative))
    assert [(line["rule"], line["kind"], line["from_kg"], line["amount_minor"]) for line in lines] == [
        (1, "per_carton", None, 30_000),
        (2, "by_step", 0.0, 7),
        (2, "by_step", 50.0, 57),
    ]
    assert {line["carrier"] for line in lines} == {shore.carrier.name}


def test_a_timetable_has_its_hour_and_each_of_its_days(shore):
    (line,) = exports.timetable_lines(shore.cooperative)
    assert (line["departs_at_local"], line["monday"], line["valid_from"]) == (
        time(16),
        True,
        date(2025, 1, 1),
    )


@pytest.mark.parametrize("lines", EVERY)
def test_lines_of_strangers_are_not_among_them(shore, lines):
    assert list(lines(CooperativeFactory())) == []
