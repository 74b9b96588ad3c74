"""Terms and limits leave their cooperative and buyer, designs get days: there and back with every row."""

from datetime import UTC, datetime

from django.core.management import call_command
from django.db import connection

from coop.models import CartonDesign, Tariff, TariffStep, Terms
from tests.factories.buyers import BuyerFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.factories.tariffs import ByStepRuleFactory, TariffStepFactory


def rows(sql):
    with connection.cursor() as cursor:
        cursor.execute(sql)
        return cursor.fetchall() if cursor.description else []


def triggers():
    return {name for (name,) in rows("SELECT name FROM sqlite_master WHERE type = 'trigger'")}


def migrate(to):
    call_command("migrate", "coop", to, verbosity=0)


def test_figures_go_back_to_their_owners_and_come_again_with_their_first_record(file_database):
    shore = trade(CooperativeFactory(terms__confidence=0.9, terms__closing_lead_minutes=55))
    BuyerFactory(cooperative=shore.cooperative, limit__limit_kind="core_c", limit__limit_value=-5.0)
    TariffStepFactory(rule=ByStepRuleFactory(tariff=shore.tariff, position=2), from_kg=0)
    migrate("0009")
    refusals = triggers()

    migrate("0007")
    assert rows("SELECT confidence, closing_lead_minutes FROM coop_cooperative") == [(0.9, 55.0)]
    assert set(rows("SELECT limit_kind, limit_value FROM coop_buyer")) == {
        ("softened_share", 0.05), ("core_c", -5.0)
    }  # fmt: skip
    assert "valid_from" not in {name for _, name, *_ in rows("PRAGMA table_info(coop_cartondesign)")}
    gone = {"carton_design", "design_material_in_use", "terms", "buyer_limit"}
    assert all(name.startswith(tuple(gone)) for name in refusals - triggers())

    migrate("0009")
    assert triggers() == refusals
    terms = Terms.objects.get()
    assert (terms.confidence, terms.closing_lead_minutes) == (0.9, 55.0)
    design = CartonDesign.objects.get()
    assert (terms.valid_from.year, design.valid_from.year, design.valid_until) == (2000, 2000, None)
    # The tariff of the factories counts from the first day of 2025 on, and so does what is known of it.
    new_year = datetime(2024, 12, 31, 22, tzinfo=UTC)
    [then] = Tariff.history.as_of(new_year)
    assert [rule.kind for rule in then.rules.order_by("position")] == ["per_carton", "by_step"]
    assert TariffStep.history.get().history_date == new_year
    assert not Tariff.history.as_of(new_year.replace(hour=21))
