"""The history of a dated row: every change of it is kept, and a past state is found with its parts."""

from datetime import UTC, datetime, timedelta

import pytest

from coop.models import Tariff, TariffRule, TariffStep
from tests.factories.members import MemberFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.tariffs import ByStepRuleFactory, TariffFactory, TariffStepFactory

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 3, 2, 10, tzinfo=UTC)
HOUR = timedelta(hours=1)


def saved(row, at, **columns):
    for name, value in columns.items():
        setattr(row, name, value)
    row._history_date = at
    row.save()


def test_each_change_is_kept_with_who_when_and_why():
    price = FishPriceFactory()
    manager = MemberFactory(cooperative=price.cooperative, role="manager")
    price._history_user, price._change_reason = manager, "asked at the market"
    saved(price, NOON, sold_minor_per_kg=6000)
    record = price.history.get(history_date=NOON)
    assert (record.history_user, record.history_change_reason) == (manager, "asked at the market")
    assert (record.history_type, record.sold_minor_per_kg) == ("~", 6000)


def test_of_two_changes_at_one_instant_the_later_one_counts():
    price = FishPriceFactory(sold_minor_per_kg=5500)
    saved(price, NOON, sold_minor_per_kg=6000)
    saved(price, NOON, sold_minor_per_kg=7000)
    [found] = type(price).history.as_of(NOON).filter(pk=price.pk)
    assert found.sold_minor_per_kg == 7000


def test_a_tariff_of_once_has_the_rules_and_steps_of_once():
    tariff = TariffFactory.build(
        cooperative=(row := TariffFactory()).cooperative, carrier=row.carrier, route=row.route
    )
    Tariff.objects.filter(pk=row.pk).delete()
    saved(tariff, NOON)
    rule = ByStepRuleFactory.build(tariff=tariff)
    saved(rule, NOON)
    step = TariffStepFactory.build(rule=rule, amount_minor=9000)
    saved(step, NOON)
    saved(step, NOON + 2 * HOUR, amount_minor=9500)
    for hours, amount in ((1, 9000), (3, 9500)):
        [then] = Tariff.history.as_of(NOON + hours * HOUR).filter(pk=tariff.pk)
        [rule_then] = then.rules.all()
        assert [one.amount_minor for one in rule_then.steps.all()] == [amount]
    assert not Tariff.history.as_of(NOON - HOUR).filter(pk=tariff.pk)


def test_what_is_gone_was_there_before():
    step = TariffStepFactory(rule=ByStepRuleFactory())
    at = datetime.now(UTC) + HOUR
    step._history_date = at
    step.delete()
    assert not TariffStep.history.as_of(at)
    assert TariffStep.history.as_of(at - timedelta(seconds=1)).count() == 1
    assert TariffRule.history.as_of(at).count() == 1
