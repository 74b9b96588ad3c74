import pytest

from coop.models import Leg, Route
from tests.admin.pages import address, mistakes, row, send
from tests.factories.places import PlaceFactory
from tests.factories.routes import LegFactory, RouteFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def route():
    """From a place over another to a third."""
    route = RouteFactory()
    over = PlaceFactory(code="over")
    LegFactory(route=route, position=1, end=over)
    LegFactory(route=route, position=2, start=over)
    return route


def test_legs_that_join_are_saved(admin_client, route):
    answer = send(admin_client, address(Route, route), **row("legs", 0, hours_mean="4"))
    assert answer.status_code == 302
    assert route.legs.get(position=1).hours_mean == 4


def test_legs_that_do_not_join_are_said(admin_client, route):
    answer = send(admin_client, address(Route, route), **row("legs", 1, start=PlaceFactory().pk))
    assert "leg 2 must begin where leg 1 ends, at Over" in mistakes(answer)


def test_a_leg_cannot_go_out_of_the_middle(admin_client, route):
    answer = send(admin_client, address(Route, route), **row("legs", 0, DELETE="on"))
    assert "without a gap" in mistakes(answer)
    assert Leg.objects.filter(route=route).count() == 2


def test_a_leg_to_itself_is_said(admin_client, route):
    leg = route.legs.get(position=1)
    answer = send(admin_client, address(Route, route), **row("legs", 0, end=leg.start_id))
    assert "from one place to another" in mistakes(answer)
