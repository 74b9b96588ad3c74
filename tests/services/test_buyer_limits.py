from datetime import UTC, date, datetime

import pytest

from coop.errors import Invalid, NotFound
from coop.selectors.buyer_limits import limit_on
from coop.services.buyer_limits import change_buyer_limit
from tests.factories.buyers import BuyerFactory
from tests.factories.members import MemberFactory

pytestmark = pytest.mark.django_db
NOW, TODAY, TOMORROW = datetime(2026, 3, 2, 8, tzinfo=UTC), date(2026, 3, 2), date(2026, 3, 3)


def test_a_buyer_accepts_something_else_from_a_day_on():
    buyer = BuyerFactory()
    manager = MemberFactory(cooperative=buyer.cooperative, role="manager")
    asked = {"by": manager, "valid_from": TOMORROW, "now": NOW}
    change_buyer_limit(buyer=buyer, limit_kind="core_c", limit_value=-5.0, **asked)
    kinds = [limit_on(buyer, day).limit_kind for day in (TODAY, TOMORROW)]
    assert kinds == ["softened_share", "core_c"]
    with pytest.raises(Invalid, match="a temperature between"):
        change_buyer_limit(buyer=buyer, limit_kind="core_c", limit_value=0.05, **asked)
    with pytest.raises(NotFound):
        change_buyer_limit(buyer=BuyerFactory(), limit_kind="core_c", limit_value=-5.0, **asked)
