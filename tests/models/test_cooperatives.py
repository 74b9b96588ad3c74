import pytest
from django.core.exceptions import ValidationError

from tests.factories.cooperatives import CooperativeFactory, DemoCooperativeFactory
from tests.models.refusals import change, refused

pytestmark = pytest.mark.django_db


def test_at_most_one_cooperative_is_the_demonstration():
    DemoCooperativeFactory()
    other = CooperativeFactory()
    with refused("coop_cooperative.is_demo|cooperative_one_demonstration"):
        change(other, is_demo=True)


def test_many_cooperatives_are_none():
    assert not CooperativeFactory().is_demo
    assert not CooperativeFactory().is_demo


def test_a_short_name_names_one_cooperative():
    one, other = CooperativeFactory(), CooperativeFactory()
    with refused("coop_cooperative.slug|coop_cooperative_slug"):
        change(other, slug=one.slug)


@pytest.mark.parametrize("currency", ["zmw", "ZM", "K"])
def test_a_currency_is_three_letters(currency):
    with pytest.raises(ValidationError) as failure:
        CooperativeFactory.build(currency=currency).full_clean()
    assert list(failure.value.message_dict) == ["currency"]
