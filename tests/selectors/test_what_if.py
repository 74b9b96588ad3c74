"""What is tried stands in for what is stored as if it were written: compared with what is written then."""

from datetime import UTC, date, datetime

import pytest

from coop.selectors.cost import bill_of, prices_for
from coop.selectors.what_if import Trial
from coop.services.tariffs import change_tariff
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.scene import trade

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 2, 8, tzinfo=UTC)
DAYS = [date(2026, 3, day) for day in (1, 2, 3, 4, 9, 10)]
WEEK = date(2026, 3, 9)
STEPS = [{"from_kg": 40.0, "amount_minor": 25_000}, {"from_kg": 0, "amount_minor": 11_000}]
RULES = [{"kind": "by_step", "steps": STEPS}, {"kind": "surcharge", "surcharge_share": 0.25}]


@pytest.fixture
def shore():
    found = trade(CooperativeFactory())
    found.manager = MemberFactory(cooperative=found.cooperative, role="manager")
    return found


def bills(shore, prices):
    found = (
        bill_of(prices, carrier=shore.carrier, design=shore.design, mass_kg=60.0, cartons=1, day=day).cost
        for day in DAYS
    )
    return [cost and [(line.code, line.amount_minor) for line in cost.lines] for cost in found]


def way(shore):
    return shore.cooperative, shore.route, shore.buyer, shore.species


def written(shore, rules, valid_from):
    change_tariff(
        by=shore.manager,
        carrier=shore.carrier,
        route=shore.route,
        valid_from=valid_from,
        rules=rules,
        now=NOW,
    )


@pytest.mark.parametrize("valid_from", [DAYS[1], DAYS[2], WEEK])
@pytest.mark.parametrize("later", [False, True])
def test_a_fare_that_is_tried_costs_what_it_costs_once_it_is_written(shore, valid_from, later):
    if later:
        written(shore, [{"kind": "per_kilogram", "amount_minor": 900}], WEEK)
    trial = Trial(shore.cooperative, valid_from, {(shore.carrier.pk, shore.route.pk): RULES})
    tried = bills(shore, trial.prices(*way(shore)))
    written(shore, RULES, valid_from)
    assert tried == bills(shore, prices_for(*way(shore)))


def test_a_surcharge_that_is_tried_is_one_more_rule(shore):
    trial = Trial(shore.cooperative, DAYS[2], {}, 0.1)
    tried = bills(shore, trial.prices(*way(shore)))
    written(
        shore, [{"kind": "per_carton", "amount_minor": 30_000}, RULES[1] | {"surcharge_share": 0.1}], DAYS[2]
    )
    assert tried == bills(shore, prices_for(*way(shore)))


def test_nothing_is_asked_for_and_nothing_moves(shore):
    trial = Trial(shore.cooperative, DAYS[1], {})
    assert bills(shore, trial.prices(*way(shore))) == bills(shore, prices_for(*way(shore)))
