import math

import pytest
from django.core.exceptions import ValidationError

from tests.factories.buyer_limits import BuyerLimitFactory
from tests.models.refusals import change, refused

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("kind", "value"),
    [
        ("softened_share", 0),
        ("softened_share", 0.51),
        ("softened_share", -9),
        ("core_c", 0.05),
        ("mean_c", -41),
        ("warmest_c", 0),
    ],
)
def test_a_limit_that_does_not_fit_its_kind_is_refused(kind, value):
    limit = BuyerLimitFactory()
    with refused("buyer_limit_fits_its_kind"):
        change(limit, limit_kind=kind, limit_value=value)
    limit.limit_kind, limit.limit_value = kind, value
    with pytest.raises(ValidationError, match="a temperature between"):
        limit.full_clean()


@pytest.mark.parametrize(
    ("kind", "value"),
    [("softened_share", 0.05), ("core_c", -5), ("mean_c", -18), ("mean_c", -9), ("warmest_c", -12)],
)
def test_limits_in_use_are_taken(kind, value):
    change(BuyerLimitFactory(), limit_kind=kind, limit_value=value)


def test_a_limit_that_is_no_number_is_refused_by_its_form():
    limit = BuyerLimitFactory()
    limit.limit_value = math.nan
    with pytest.raises(ValidationError, match="must be a number"):
        limit.clean_fields()
