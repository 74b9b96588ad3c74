from datetime import date

import pytest

from coop.selectors.charges import charges_of, charges_on
from tests.factories.buyers import BuyerFactory
from tests.factories.charges import ChargeFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.routes import RouteFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db

DAY = date(2026, 3, 2)


def test_charges_come_with_route_and_buyer_in_one_question():
    cooperative = CooperativeFactory()
    route, buyer = RouteFactory(cooperative=cooperative), BuyerFactory(cooperative=cooperative)
    same_for_many(
        lambda: ChargeFactory(cooperative=cooperative, route=route, buyer=buyer),
        lambda: [(charge.route.name, charge.buyer.name) for charge in charges_of(cooperative)],
        most=1,
    )


@pytest.fixture
def cooperative():
    return CooperativeFactory()


@pytest.fixture
def route(cooperative):
    return RouteFactory(cooperative=cooperative)


@pytest.fixture
def buyer(cooperative):
    return BuyerFactory(cooperative=cooperative)


@pytest.fixture
def four(cooperative, route, buyer):
    """Charges named after what they name."""
    columns = {"every": {}, "route": {"route": route}, "buyer": {"buyer": buyer}}
    columns["both"] = {"route": route, "buyer": buyer}
    for name, named in columns.items():
        ChargeFactory(cooperative=cooperative, name=name, **named)


@pytest.mark.usefixtures("four")
def test_a_charge_counts_where_its_route_and_its_buyer_agree(cooperative, route, buyer):
    def names(**asked):
        return {charge.name for charge in charges_on(cooperative, DAY, **asked)}

    assert names() == {"every"}
    assert names(route=route) == {"every", "route"}
    assert names(buyer=buyer) == {"every", "buyer"}
    assert names(route=route, buyer=buyer) == {"every", "route", "buyer", "both"}
    other = RouteFactory(cooperative=cooperative)
    assert names(route=other, buyer=buyer) == {"every", "buyer"}


@pytest.mark.usefixtures("four")
def test_a_stranger_pays_none_of_them():
    assert not charges_on(CooperativeFactory(), DAY).exists()


def test_a_charge_counts_on_its_days(cooperative):
    ChargeFactory(cooperative=cooperative, valid_from=DAY, valid_until=date(2026, 3, 3))
    days = (date(2026, 3, 1), DAY, date(2026, 3, 3))
    assert [charges_on(cooperative, day).count() for day in days] == [0, 1, 0]
