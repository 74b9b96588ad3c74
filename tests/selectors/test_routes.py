import pytest

from coop.selectors.routes import legs_of, routes_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.routes import LegFactory, OneLegRouteFactory, RouteFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def test_routes_come_with_ends_and_legs_in_a_fixed_number_of_questions():
    cooperative = CooperativeFactory()
    same_for_many(
        lambda: OneLegRouteFactory(cooperative=cooperative),
        lambda: [
            (
                route.origin.name,
                route.destination.name,
                *((leg.start.name, leg.end.name) for leg in route.legs.all()),
            )
            for route in routes_of(cooperative)
        ],
        most=2,
    )


def test_legs_come_in_order():
    route = RouteFactory()
    for position in (3, 1, 2):
        LegFactory(route=route, position=position)
    [found] = routes_of(route.cooperative)
    assert [leg.position for leg in found.legs.all()] == [1, 2, 3]
    assert [leg.position for leg in legs_of(route.cooperative)] == [1, 2, 3]


def test_a_stranger_sees_none_of_it():
    OneLegRouteFactory()
    stranger = CooperativeFactory()
    assert not routes_of(stranger).exists()
    assert not legs_of(stranger).exists()
