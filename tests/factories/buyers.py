from datetime import time

import factory

from coop.models import Buyer, ReceivingHours
from tests.factories.buyer_limits import BuyerLimitFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.places import PlaceFactory


class BuyerFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Buyer
        skip_postgeneration_save = True

    cooperative = factory.SubFactory(CooperativeFactory)
    slug = factory.Sequence(lambda n: f"buyer-{n}")
    name = factory.LazyAttribute(lambda it: it.slug.title())
    place = factory.SubFactory(PlaceFactory)
    limit = factory.RelatedFactory(BuyerLimitFactory, factory_related_name="buyer")
    last_stretch_hours_mean = 0.75
    last_stretch_hours_cv = 0.5
    waits_in = "shade"


class ReceivingHoursFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = ReceivingHours

    buyer = factory.SubFactory(BuyerFactory)
    weekday = factory.Sequence(lambda n: n % 7)
    opens_at = time(8)
    closes_at = time(17)
