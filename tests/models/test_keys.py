import pytest
from django.apps import apps

from coop.models import PhoneToken
from coop.models.keys import Keyed
from tests.factories.charges import ChargeFactory
from tests.factories.tariffs import ByStepRuleFactory, TariffStepFactory

pytestmark = pytest.mark.django_db


def test_every_table_is_keyed_by_what_people_call_its_rows():
    # A token is known by its digest, and never written into a file.
    tables = [table for table in apps.get_app_config("coop").get_models() if table is not PhoneToken]
    assert len(tables) == 55
    assert all(issubclass(table, Keyed) and table.key_fields for table in tables)


def test_a_row_is_found_by_its_own_key():
    step = TariffStepFactory(rule=ByStepRuleFactory(position=3), from_kg=30.0)
    assert step.natural_key()[-2:] == (3, 30.0)
    assert type(step).objects.get_by_natural_key(*step.natural_key()) == step


def test_a_charge_is_found_with_and_without_a_route_and_a_buyer():
    charge = ChargeFactory(name="Permit")
    assert charge.natural_key()[1:3] == (None, None)
    assert type(charge).objects.get_by_natural_key(*charge.natural_key()) == charge


def test_a_key_of_another_length_is_refused():
    with pytest.raises(ValueError, match="zip"):
        ChargeFactory._meta.model.objects.get_by_natural_key("demo")
