import pytest

from api.csv_subjects import SUBJECTS
from tests.api.files import SUBJECTS as NAMES
from tests.api.files import full_trade


@pytest.mark.parametrize("name", NAMES)
def test_columns_are_those_of_the_lines_that_are_stored(ours_trading, name):
    cooperative = full_trade(ours_trading).cooperative
    keys = [column.key for column in SUBJECTS[name].columns(cooperative)]
    for line in SUBJECTS[name].takes.lines(cooperative):
        assert set(line) == set(keys)
    assert len(set(keys)) == len(keys)


def test_money_names_its_currency_and_has_its_decimals(ours):
    """ISO 4217: UGX has no decimals."""
    ours.currency, ours.currency_decimals = "UGX", 0
    for name in ("fares", "fish_prices", "material_prices", "charges"):
        money = [column for column in SUBJECTS[name].columns(ours) if column.key != column.name]
        assert money
        assert all("_ugx" in column.name and column.decimals == 0 for column in money)
