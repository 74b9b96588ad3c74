import factory

from coop.models import Cooperative


class CooperativeFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Cooperative
        django_get_or_create = ("slug",)

    slug = factory.Sequence(lambda n: f"cooperative-{n}")
    name = factory.LazyAttribute(lambda it: f"Traders of {it.slug}")
    currency = "ZMW"
    time_zone = "Africa/Lusaka"
    closing_lead_minutes = 40
    electricity_price_minor_per_kwh = 260
    labour_price_minor_per_hour = 2500
    packing_minutes_per_carton = 35


class DemoCooperativeFactory(CooperativeFactory):
    slug = "demo"
    is_demo = True
