from datetime import date

import factory

from coop.models import BuyerLimit


class BuyerLimitFactory(factory.django.DjangoModelFactory):
    """One limit for all days; a buyer of the factories has it from the beginning."""

    class Meta:
        model = BuyerLimit
        django_get_or_create = ("buyer", "valid_from")

    buyer = factory.SubFactory("tests.factories.buyers.BuyerFactory", limit=None)
    limit_value = 0.05
    valid_from = date(2000, 1, 1)
