from datetime import UTC, date, datetime

import pytest

from coop.errors import Invalid, NotFound
from coop.models import Tariff, TariffRule
from coop.services.changes import withdraw
from coop.services.tariffs import change_tariff
from tests.factories.carriers import CarrierFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.scene import trade

pytestmark = pytest.mark.django_db
NOW, TODAY, TOMORROW = datetime(2026, 3, 2, 8, tzinfo=UTC), date(2026, 3, 2), date(2026, 3, 3)
STEPS = [{"from_kg": 50.0, "amount_minor": 20_000}, {"from_kg": 0, "amount_minor": 9_000}]
BY_STEP = {"kind": "by_step", "steps": STEPS}


@pytest.fixture
def shore():
    """One carrier that takes 30 000 a carton."""
    found = trade(CooperativeFactory())
    found.manager = MemberFactory(cooperative=found.cooperative, role="manager")
    return found


@pytest.fixture
def change(shore):
    way = {"by": shore.manager, "carrier": shore.carrier, "route": shore.route, "now": NOW}
    return lambda rules, valid_from=TOMORROW, **more: change_tariff(
        **{**way, "rules": rules, "valid_from": valid_from, **more}
    )


def test_a_fare_changes_with_all_its_rules_and_steps(change, shore):
    new = change([BY_STEP, {"kind": "surcharge", "surcharge_share": 0.1, "months": [12, 1]}])
    first, second = new.rules.all()
    assert [(step.from_kg, step.amount_minor) for step in first.steps.all()] == [(0, 9_000), (50, 20_000)]
    assert (second.position, second.kind, second.months) == (2, "surcharge", [12, 1])
    shore.tariff.refresh_from_db()
    assert shore.tariff.valid_until == TOMORROW
    assert shore.tariff.rules.get().amount_minor == 30_000


def test_the_same_rules_are_nothing_new(change, shore):
    assert change([{"kind": "per_carton", "amount_minor": 30_000}]) == shore.tariff
    stepped = change([BY_STEP])
    assert change([{"kind": "by_step", "steps": STEPS[::-1]}]) == stepped
    assert Tariff.objects.count() == 2


def test_rules_of_the_same_day_are_replaced_and_kept_in_the_history(change):
    row = change([BY_STEP])
    change([{"kind": "per_kilogram", "amount_minor": 300}])
    assert [rule.kind for rule in row.rules.all()] == ["per_kilogram"]
    kinds = TariffRule.history.filter(tariff=row).order_by("history_id").values_list("kind", "history_type")
    assert list(kinds) == [("by_step", "+"), ("by_step", "-"), ("per_kilogram", "+")]


def test_a_fare_that_is_withdrawn_goes_with_its_rules(change, shore):
    assert withdraw(change([BY_STEP]), shore.manager, now=NOW) == shore.tariff
    assert TariffRule.objects.count() == 1


@pytest.mark.parametrize(
    ("rules", "field"),
    [
        ([], "rules"),
        ([{"amount_minor": 5}], "rules.0.kind"),
        ([{"kind": "per_carton", "amount": 5}], "rules.0.amount"),
        ([{"kind": "per_carton", "amount_minor": -5}], "rules.0.amount_minor"),
        ([BY_STEP, {"kind": "per_seat", "amount_minor": 5}], "rules.1.__all__"),
        ([{"kind": "by_step"}], "rules.0.steps"),
        ([{"kind": "by_step", "steps": STEPS[:1]}], "rules.0.steps"),
        ([{"kind": "by_step", "steps": [*STEPS, STEPS[1]]}], "rules.0.steps"),
        ([{"kind": "per_carton", "amount_minor": 5, "steps": STEPS}], "rules.0.steps"),
        (
            [{"kind": "by_step", "steps": [{"from_kg": 0, "amount_minor": -1}]}],
            "rules.0.steps.0.amount_minor",
        ),
    ],
)
def test_a_rule_that_cannot_be_is_named_and_nothing_is_changed(change, rules, field):
    with pytest.raises(Invalid) as refusal:
        change(rules)
    assert refusal.value.problems[0].field == field
    assert Tariff.objects.get().valid_until is None


def test_a_carrier_of_strangers_is_not_known(change):
    with pytest.raises(NotFound):
        change([BY_STEP], carrier=CarrierFactory())


def test_another_carrier_keeps_its_fare(change, shore):
    other = CarrierFactory(cooperative=shore.cooperative)
    change([BY_STEP], TODAY, carrier=other)
    shore.tariff.refresh_from_db()
    assert shore.tariff.valid_until is None
