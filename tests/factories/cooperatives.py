import factory

from coop.models import Cooperative
from tests.factories.terms import TermsFactory


class CooperativeFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Cooperative
        django_get_or_create = ("slug",)
        skip_postgeneration_save = True

    slug = factory.Sequence(lambda n: f"cooperative-{n}")
    name = factory.LazyAttribute(lambda it: f"Traders of {it.slug}")
    currency = "ZMW"
    time_zone = "Africa/Lusaka"
    terms = factory.RelatedFactory(TermsFactory, factory_related_name="cooperative")


class DemoCooperativeFactory(CooperativeFactory):
    slug = "demo"
    is_demo = True
