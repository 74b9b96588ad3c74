import pytest

from tests.factories.terms import TermsFactory
from tests.models.refusals import change, refused

pytestmark = pytest.mark.django_db


def test_prices_are_not_negative():
    terms = TermsFactory()
    with refused("terms_electricity_price_minor_per_kwh_range"):
        change(terms, electricity_price_minor_per_kwh=-1)
    with refused("terms_labour_price_minor_per_hour_range"):
        change(terms, labour_price_minor_per_hour=-1)


def test_a_cooperative_of_the_factories_has_terms_for_every_day():
    terms = TermsFactory()
    assert list(type(terms).objects.of(terms.cooperative)) == [terms]
