import factory

from coop.models import Leg, Route
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.places import PlaceFactory


class RouteFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Route

    cooperative = factory.SubFactory(CooperativeFactory)
    slug = factory.Sequence(lambda n: f"route-{n}")
    name = factory.LazyAttribute(lambda it: it.slug.title())
    origin = factory.SubFactory(PlaceFactory)
    destination = factory.SubFactory(PlaceFactory)


class LegFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Leg

    route = factory.SubFactory(RouteFactory)
    position = 1
    start = factory.SelfAttribute("route.origin")
    end = factory.SelfAttribute("route.destination")
    distance_km = 200.0
    hours_mean = 3.5
    hours_floor = 2.5
    hours_cv = 0.5
    stop_hours_mean = 0.5
    stop_hours_cv = 0.5


class OneLegRouteFactory(RouteFactory):
    """A route that one leg covers."""

    class Meta:
        skip_postgeneration_save = True

    leg = factory.RelatedFactory(LegFactory, factory_related_name="route")
