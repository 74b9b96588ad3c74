import pytest
from django.core.exceptions import ValidationError

from tests.factories.prices import FishPriceFactory
from tests.models.refusals import change, refused

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("column", ["bought_minor_per_kg", "soft_minor_per_kg"])
def test_a_negative_price_is_refused(column):
    with refused(f"fish_price_{column}_range"):
        change(FishPriceFactory(), **{column: -1})


def test_soft_fish_fetches_no_more_than_hard_fish():
    price = FishPriceFactory(sold_minor_per_kg=5500, soft_minor_per_kg=5500)
    with refused("fish_price_soft_not_above_hard"):
        change(price, soft_minor_per_kg=5501)
    price.soft_minor_per_kg = 5501
    with pytest.raises(ValidationError, match="not fetch more"):
        price.full_clean()
