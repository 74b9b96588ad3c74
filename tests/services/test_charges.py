from datetime import UTC, date, datetime

import pytest

from coop.errors import NotFound
from coop.models import Charge
from coop.services.charges import change_charge
from tests.factories.buyers import BuyerFactory
from tests.factories.charges import ChargeFactory
from tests.factories.members import MemberFactory
from tests.factories.routes import RouteFactory

pytestmark = pytest.mark.django_db
NOW, TODAY = datetime(2026, 3, 2, 8, tzinfo=UTC), date(2026, 3, 2)


@pytest.fixture
def levy():
    return ChargeFactory(name="Gate")


@pytest.fixture
def change(levy):
    manager = MemberFactory(cooperative=levy.cooperative, role="manager")
    what = {"kind": "levy", "name": "Gate", "basis": "kilogram", "valid_from": TODAY, "now": NOW}
    return lambda amount, **more: change_charge(**{"by": manager, "amount_minor": amount, **what, **more})


def test_a_charge_of_every_route_and_one_of_a_route_change_apart(change, levy):
    route = RouteFactory(cooperative=levy.cooperative)
    change(90, route=route)
    change(70)
    levy.refresh_from_db()
    assert levy.valid_until == TODAY
    rows = Charge.objects.of(levy.cooperative).on(TODAY).order_by("amount_minor")
    assert [(row.amount_minor, row.route) for row in rows] == [(70, None), (90, route)]


def test_another_basis_is_a_change(change, levy):
    assert change(50) == levy
    assert change(50, basis="carton").basis == "carton"


def test_a_route_or_a_buyer_of_strangers_is_not_known(change):
    for strange in ({"route": RouteFactory()}, {"buyer": BuyerFactory()}):
        with pytest.raises(NotFound):
            change(70, **strange)
