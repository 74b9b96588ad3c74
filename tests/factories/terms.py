from datetime import date

import factory

from coop.models import Terms


class TermsFactory(factory.django.DjangoModelFactory):
    """Terms of a cooperative for all days; a cooperative of the factories has them from the beginning."""

    class Meta:
        model = Terms
        django_get_or_create = ("cooperative", "valid_from")

    cooperative = factory.SubFactory("tests.factories.cooperatives.CooperativeFactory", terms=None)
    closing_lead_minutes = 40
    electricity_price_minor_per_kwh = 260
    labour_price_minor_per_hour = 2500
    packing_minutes_per_carton = 35
    valid_from = date(2000, 1, 1)
    confirmed_on = date(2025, 1, 1)
