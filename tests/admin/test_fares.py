import pytest

from coop.models import Tariff, TariffRule
from tests.admin.pages import address, mistakes, row, send
from tests.factories.tariffs import ByStepRuleFactory, TariffFactory, TariffRuleFactory, TariffStepFactory

pytestmark = pytest.mark.django_db


def test_months_are_ticked_and_come_back_as_numbers(admin_client):
    rule = TariffRuleFactory(kind="surcharge", amount_minor=0, surcharge_share=0.1, months=[12])
    page = address(Tariff, rule.tariff)
    assert send(admin_client, page, **row("rules", 0, months=["1", "12"])).status_code == 302
    rule.refresh_from_db()
    assert rule.months == [1, 12]
    assert send(admin_client, page, **row("rules", 0, months=None)).status_code == 302
    rule.refresh_from_db()
    assert rule.months == []


def test_a_kind_without_what_it_needs_is_said(admin_client):
    tariff = TariffFactory()
    fare = row("rules", 0, position=1, kind="per_seat", amount_minor=45000, minimum_minor=0, minimum_kg=0)
    answer = send(admin_client, address(Tariff, tariff), **fare, **{"rules-TOTAL_FORMS": 1})
    assert "needed for each seat taken" in mistakes(answer)
    seats = row("rules", 0, seats_per_carton=2)
    answer = send(admin_client, address(Tariff, tariff), **fare, **seats, **{"rules-TOTAL_FORMS": 1})
    assert answer.status_code == 302
    assert tariff.rules.get().seats_per_carton == 2


def test_steps_begin_at_nothing(admin_client):
    rule = ByStepRuleFactory()
    page = address(TariffRule, rule)
    late = {**row("steps", 0, from_kg=30, amount_minor=15000), "steps-TOTAL_FORMS": 1}
    assert "begins at 0 kg" in mistakes(send(admin_client, page, **late))
    first = {**row("steps", 0, from_kg=0, amount_minor=9000), "steps-TOTAL_FORMS": 1}
    assert send(admin_client, page, **first).status_code == 302
    assert rule.steps.get().amount_minor == 9000


def test_the_first_step_does_not_go(admin_client):
    rule = ByStepRuleFactory()
    TariffStepFactory(rule=rule, from_kg=0)
    TariffStepFactory(rule=rule, from_kg=30)
    answer = send(admin_client, address(TariffRule, rule), **row("steps", 0, DELETE="on"))
    assert "begins at 0 kg" in mistakes(answer)


def test_a_rule_becomes_one_by_steps_together_with_its_steps(admin_client):
    rule = TariffRuleFactory(amount_minor=0)
    steps = {**row("steps", 0, from_kg=0, amount_minor=9000), "steps-TOTAL_FORMS": 1}
    page = address(TariffRule, rule)
    assert "Only a rule by steps" in mistakes(send(admin_client, page, **steps))
    assert send(admin_client, page, kind="by_step", **steps).status_code == 302
