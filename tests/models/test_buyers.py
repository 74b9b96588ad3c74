from datetime import time

import pytest
from django.core.exceptions import ValidationError

from tests.factories.buyers import BuyerFactory, ReceivingHoursFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("closes", [time(8), time(7, 59)])
def test_it_closes_after_it_opens(closes):
    hours = ReceivingHoursFactory(opens_at=time(8))
    with refused("receiving_hours_close_after_opening"):
        change(hours, closes_at=closes)


def test_a_short_name_is_taken_once_in_a_cooperative():
    with refused("coop_buyer.slug|buyer_slug_once_in_a_cooperative"):
        twin(BuyerFactory())


def test_the_form_says_that_hours_overlap():
    hours = ReceivingHoursFactory(opens_at=time(8), closes_at=time(17))
    again = ReceivingHoursFactory.build(
        buyer=hours.buyer, weekday=hours.weekday, opens_at=time(16), closes_at=time(20)
    )
    with pytest.raises(ValidationError, match="overlaps with the one from 08:00:00 until 17:00:00"):
        again.full_clean()
