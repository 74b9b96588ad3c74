import pytest
from django.core.cache import caches

from tests.api.asked import of_list
from tests.api.people import Asking, asking_as, somebody
from tests.factories.cooperatives import CooperativeFactory, DemoCooperativeFactory
from tests.factories.scene import trade


@pytest.fixture(autouse=True)
def no_tries():
    """Tries that failed in one test count in no other."""
    for name in caches:
        caches[name].clear()


@pytest.fixture
def ours(db):
    """The cooperative that requests belong to."""
    return DemoCooperativeFactory()


@pytest.fixture
def theirs(db):
    """A cooperative of strangers."""
    return CooperativeFactory(slug="far")


@pytest.fixture
def ask(ours):
    """Asks as a visitor of ours, the demonstration."""
    return Asking()


@pytest.fixture
def manager(ours):
    return somebody(ours, "manager", name="Esther")


@pytest.fixture
def ask_as_manager(manager):
    """Asks as a manager of ours."""
    return asking_as(manager)


@pytest.fixture
def ours_trading(ours):
    """Our cooperative with a route, a vehicle, a carton, a buyer and every price."""
    return trade(ours)


@pytest.fixture
def theirs_trading(theirs):
    """The strangers with the same of their own, under other short names."""
    found = trade(theirs)
    for row, slug in ((found.route, "their-route"), (found.design, "their-carton"), (found.buyer, "theirs")):
        row.slug = slug
        row.save()
    return found


@pytest.fixture
def departures(ask, ours_trading):
    """Asks for departures of the trade; answers with the whole body of a good answer."""

    def get(**changes):
        status, answer = ask("departures/", **of_list(ours_trading, **changes))
        assert status == 200, answer
        return answer

    get.trade = ours_trading
    return get
