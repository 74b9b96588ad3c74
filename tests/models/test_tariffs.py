import pytest
from django.core.exceptions import ValidationError

from tests.factories.tariffs import ByStepRuleFactory, TariffRuleFactory, TariffStepFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db

NEEDED = [
    ("per_seat", "seats_per_carton", 2, "tariff_rule_seats_only_for_seats"),
    ("per_volumetric_kilogram", "volumetric_divisor_cm3_per_kg", 6000, "tariff_rule_divisor_only_for_volume"),
    ("surcharge", "surcharge_share", 0.1, "tariff_rule_share_only_for_surcharge"),
]


@pytest.mark.parametrize(("kind", "column", "value", "name"), NEEDED)
def test_a_kind_has_the_column_that_it_needs_and_no_other_kind_has_it(kind, column, value, name):
    rule = TariffRuleFactory(amount_minor=0)
    with refused(name):
        change(rule, kind=kind)
    with refused(name):
        change(rule, **{column: value})
    change(rule, kind=kind, **{column: value})
    rule.refresh_from_db()
    rule.full_clean()


@pytest.mark.parametrize(("kind", "share"), [("by_step", None), ("surcharge", 0.1)])
def test_steps_and_a_share_on_top_have_no_amount_of_their_own(kind, share):
    rule = TariffRuleFactory(kind=kind, amount_minor=0, surcharge_share=share)
    with refused("tariff_rule_no_amount_for_steps_and_shares"):
        change(rule, amount_minor=1)


def test_only_steps_are_for_a_kilogram():
    change(ByStepRuleFactory(), steps_per_kilogram=True)
    with refused("tariff_rule_steps_per_kilogram_only_for_steps"):
        change(TariffRuleFactory(), steps_per_kilogram=True)


@pytest.mark.parametrize("column", ["amount_minor", "minimum_minor"])
def test_a_negative_price_is_refused(column):
    with refused(f"tariff_rule_{column}_range"):
        change(TariffRuleFactory(), **{column: -1})


def test_a_negative_price_of_a_step_is_refused():
    with refused("tariff_step_amount_minor_range"):
        change(TariffStepFactory(), amount_minor=-1)


def test_a_position_is_taken_once_in_a_tariff():
    rule = TariffRuleFactory()
    with refused("coop_tariffrule.position|tariff_rule_position_once_in_a_tariff"):
        twin(rule)


def test_a_step_begins_once_in_a_rule():
    step = TariffStepFactory()
    with refused("coop_tariffstep.from_kg|tariff_step_once_in_a_rule"):
        twin(step, amount_minor=1)


def test_only_a_rule_by_steps_has_steps():
    TariffStepFactory.build(rule=ByStepRuleFactory()).full_clean()
    with pytest.raises(ValidationError, match="Only a rule by steps"):
        TariffStepFactory.build(rule=TariffRuleFactory()).full_clean()


@pytest.mark.parametrize("months", [[0], [13], ["6"], [True], {"6": 7}, 6, [6.5]])
def test_what_is_no_list_of_months_is_refused(months):
    rule = TariffRuleFactory.build(kind="surcharge", amount_minor=0, surcharge_share=0.1, months=months)
    with pytest.raises(ValidationError) as failure:
        rule.full_clean(exclude=["tariff"])
    assert list(failure.value.message_dict) == ["months"]


def test_months_come_back_as_numbers():
    rule = TariffRuleFactory(kind="surcharge", amount_minor=0, surcharge_share=0.1, months=[12, 1])
    rule.refresh_from_db()
    assert rule.months == [12, 1]
