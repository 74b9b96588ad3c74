from itertools import pairwise

import pytest
from django.core.exceptions import ValidationError

from coop.models.routes import broken_chain
from tests.factories.places import PlaceFactory
from tests.factories.routes import LegFactory, OneLegRouteFactory, RouteFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_leg_to_itself_is_refused():
    leg = LegFactory()
    with refused("leg_leads_elsewhere"):
        change(leg, end=leg.start)
    leg.end = leg.start
    with pytest.raises(ValidationError, match="from one place to another"):
        leg.full_clean()


def test_a_route_to_itself_is_refused():
    route = RouteFactory()
    with refused("route_leads_elsewhere"):
        change(route, destination=route.origin)


@pytest.mark.parametrize("floor", [3.5, 4.0])
def test_the_least_hours_are_fewer_than_the_mean(floor):
    leg = LegFactory(hours_mean=3.5)
    with refused("leg_floor_below_mean"):
        change(leg, hours_floor=floor)


def test_a_position_is_taken_once_on_a_route():
    leg = LegFactory()
    with refused("coop_leg.position|leg_position_once_on_a_route"):
        twin(leg)


def test_a_short_name_is_taken_once_in_a_cooperative():
    route = RouteFactory()
    with refused("coop_route.slug|route_slug_once_in_a_cooperative"):
        twin(route)


def chain(*places):
    route = RouteFactory.build(origin=places[0], destination=places[-1])
    legs = [
        LegFactory.build(route=route, position=number, start=start, end=end)
        for number, (start, end) in enumerate(pairwise(places), 1)
    ]
    return route, legs


def test_legs_that_join_from_end_to_end_are_whole_in_any_order_of_the_list():
    route, legs = chain(*(PlaceFactory() for _ in range(4)))
    assert broken_chain(route, legs) is None
    assert broken_chain(route, legs[::-1]) is None
    assert broken_chain(route, []) is None


def test_legs_that_do_not_join_are_named():
    a, b, c, d = (PlaceFactory() for _ in range(4))
    route, legs = chain(a, b, c, d)
    assert broken_chain(route, legs[1:]) == "number the legs 1, 2, 3 … without a gap"
    legs[1].start = d
    assert broken_chain(route, legs) == f"leg 2 must begin where leg 1 ends, at {b}"
    route, legs = chain(a, b, c)
    route.origin, route.destination = d, c
    assert broken_chain(route, legs) == f"the first leg must begin at {d}"
    route.origin, route.destination = a, d
    assert broken_chain(route, legs) == f"the last leg must end at {d}"


def test_a_route_goes_with_its_legs():
    route = OneLegRouteFactory()
    assert route.legs.count() == 1
    route.delete()
    assert LegFactory._meta.model.objects.count() == 0
