from datetime import date

import pytest

from coop.selectors.tariffs import tariff_on, tariffs_between, tariffs_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.tariffs import ByStepRuleFactory, TariffFactory, TariffRuleFactory, TariffStepFactory
from tests.selectors.queries import questions, same_for_many

pytestmark = pytest.mark.django_db

NEW_YEAR = date(2026, 1, 1)


def steps(tariff):
    return [[step.amount_minor for step in rule.steps.all()] for rule in tariff.rules.all()]


def test_tariffs_come_with_rules_and_steps_in_a_fixed_number_of_questions():
    cooperative = CooperativeFactory()
    same_for_many(
        lambda: TariffStepFactory(rule__tariff__cooperative=cooperative),
        lambda: [(row.carrier.name, row.route.name, steps(row)) for row in tariffs_of(cooperative)],
        most=3,
    )


def test_rules_and_steps_come_in_order():
    tariff = TariffFactory()
    TariffRuleFactory(tariff=tariff, position=2)
    rule = ByStepRuleFactory(tariff=tariff, position=1)
    for from_kg in (60, 0, 30):
        TariffStepFactory(rule=rule, from_kg=from_kg, amount_minor=from_kg * 100)
    [found] = tariffs_of(tariff.cooperative)
    assert steps(found) == [[0, 3000, 6000], []]


def test_the_tariff_of_a_day_is_found_with_its_rules():
    old = TariffFactory(valid_from=date(2025, 1, 1), valid_until=NEW_YEAR)
    new = TariffFactory(
        cooperative=old.cooperative, carrier=old.carrier, route=old.route, valid_from=NEW_YEAR
    )
    TariffRuleFactory(tariff=new)
    assert tariff_on(old.carrier, old.route, date(2024, 12, 31)) is None
    assert tariff_on(old.carrier, old.route, date(2025, 12, 31)) == old
    found = tariff_on(old.carrier, old.route, NEW_YEAR)
    assert found == new
    assert questions(lambda: steps(found)) == 0
    assert tariff_on(old.carrier, TariffFactory().route, NEW_YEAR) is None


def test_the_tariffs_of_some_days_come_oldest_first():
    old = TariffFactory(valid_from=date(2025, 1, 1), valid_until=NEW_YEAR)
    new = TariffFactory(
        cooperative=old.cooperative, carrier=old.carrier, route=old.route, valid_from=NEW_YEAR
    )
    assert list(tariffs_between(old.route, date(2025, 12, 31), NEW_YEAR)) == [old, new]
    assert list(tariffs_between(old.route, NEW_YEAR, date(2026, 2, 1))) == [new]
    assert list(tariffs_between(old.route, date(2024, 1, 1), date(2024, 2, 1))) == []
