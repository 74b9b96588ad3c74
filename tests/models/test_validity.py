from datetime import date

import pytest
from django.core.exceptions import ValidationError

from coop.models import MaterialPrice
from tests.factories.materials import MaterialPriceFactory
from tests.models.refusals import change, checks, refused, stored

pytestmark = pytest.mark.django_db

ENDING = checks("_ends_after_it_begins")
NEW_YEAR = date(2026, 1, 1)


@pytest.mark.parametrize(("model", "constraint"), ENDING)
def test_what_counts_for_no_day_at_all_is_refused(model, constraint):
    row = stored(model)
    with refused(constraint.name):
        change(row, valid_from=NEW_YEAR, valid_until=NEW_YEAR)
    change(row, valid_from=NEW_YEAR, valid_until=date(2026, 1, 2))


def test_every_dated_table_is_among_them():
    assert {case.values[0].__name__ for case in ENDING} == {
        "Timetable",
        "Tariff",
        "MaterialPrice",
        "FishPrice",
        "Charge",
        "CartonDesign",
        "Terms",
        "BuyerLimit",
    }


@pytest.mark.parametrize(
    ("day", "amount"),
    [
        (date(2024, 12, 31), None),
        (date(2025, 1, 1), 600),
        (date(2025, 12, 31), 600),
        (NEW_YEAR, 800),
        (date(2040, 1, 1), 800),
    ],
)
def test_the_first_day_counts_and_the_end_does_not(day, amount):
    old = MaterialPriceFactory(amount_minor=600, valid_from=date(2025, 1, 1), valid_until=NEW_YEAR)
    MaterialPriceFactory(material=old.material, amount_minor=800, valid_from=NEW_YEAR)
    assert [price.amount_minor for price in MaterialPrice.objects.on(day)] == ([amount] if amount else [])
    assert [price.amount_minor for price in MaterialPrice.objects.all() if price.counts_on(day)] == (
        [amount] if amount else []
    )


@pytest.mark.parametrize(
    ("day", "amounts"),
    [
        (date(2024, 1, 1), [600, 800]),
        (date(2025, 12, 31), [600, 800]),
        (NEW_YEAR, [800]),
        (date(2040, 1, 1), [800]),
    ],
)
def test_what_counts_from_a_day_on_is_all_that_is_not_over_by_then(day, amounts):
    old = MaterialPriceFactory(amount_minor=600, valid_from=date(2025, 1, 1), valid_until=NEW_YEAR)
    MaterialPriceFactory(material=old.material, amount_minor=800, valid_from=NEW_YEAR)
    found = MaterialPrice.objects.counting_from(day).order_by("valid_from")
    assert [price.amount_minor for price in found] == amounts


def test_the_form_says_that_it_must_end_after_it_begins():
    price = MaterialPriceFactory.build(valid_from=NEW_YEAR, valid_until=NEW_YEAR)
    with pytest.raises(ValidationError, match="must end after it begins"):
        price.full_clean(exclude=["material"])
