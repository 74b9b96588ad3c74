from datetime import time

import pytest

from coop.selectors.buyers import buyers_of
from tests.factories.buyers import BuyerFactory, ReceivingHoursFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def test_buyers_come_with_place_and_hours_in_a_fixed_number_of_questions():
    cooperative = CooperativeFactory()
    same_for_many(
        lambda: ReceivingHoursFactory(buyer__cooperative=cooperative),
        lambda: [(buyer.place.name, len(buyer.receiving_hours.all())) for buyer in buyers_of(cooperative)],
        most=3,
    )


def test_hours_come_by_day_and_hour():
    buyer = BuyerFactory()
    for weekday, opens in ((2, 14), (2, 8), (0, 14)):
        ReceivingHoursFactory(buyer=buyer, weekday=weekday, opens_at=time(opens), closes_at=time(opens + 2))
    [found] = buyers_of(buyer.cooperative)
    assert [(row.weekday, row.opens_at.hour) for row in found.receiving_hours.all()] == [
        (0, 14),
        (2, 8),
        (2, 14),
    ]


def test_a_stranger_sees_none_of_it():
    BuyerFactory()
    assert not buyers_of(CooperativeFactory()).exists()
