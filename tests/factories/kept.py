import factory
from django.utils import timezone

from coop.models import Kept
from tests.factories.phones import token_of


class KeptFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Kept

    token = factory.LazyFunction(lambda: token_of()[0])
    cursor = factory.Sequence(lambda n: f"cursor-{n}")
    given = factory.LazyFunction(dict)
    given_at = factory.LazyFunction(timezone.now)
