from datetime import UTC, date, datetime, timedelta

import pytest

from coop.models import FishPrice
from coop.selectors.history import BEGUN, CHANGED, CONFIRMED, ENDED, WITHDRAWN, History
from coop.services.changes import confirm, end, withdraw
from coop.services.fish_prices import change_fish_price
from coop.services.tariffs import change_tariff
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.scene import trade
from tests.services.price_changes import begun

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 2, 8, tzinfo=UTC)
TODAY, WEEK, MONTH = date(2026, 3, 2), date(2026, 3, 9), date(2026, 4, 1)


@pytest.fixture
def shore():
    return begun(trade(CooperativeFactory()))


def sell(shore, amount, valid_from, hours):
    figures = {"bought_minor_per_kg": 3000, "sold_minor_per_kg": amount, "soft_minor_per_kg": 2500}
    now = NOW + timedelta(hours=hours)
    return change_fish_price(
        by=shore.manager, species=shore.species, valid_from=valid_from, now=now, **figures
    )


def told(shore, **asked):
    history = History(shore.cooperative, **asked)
    return [one for one in history[: len(history)] if one.at >= NOW]


def test_each_kind_of_change_has_its_word(shore):
    price = sell(shore, 6000, TODAY, 0)
    confirm(price, shore.manager, now=NOW + timedelta(days=1))
    sell(shore, 6100, TODAY + timedelta(days=1), 25)
    end(FishPrice.objects.get(valid_until=None), MONTH, shore.manager, now=NOW + timedelta(days=2))
    coming = sell(shore, 7000, WEEK, 50)
    withdraw(coming, shore.manager, now=NOW + timedelta(days=3))
    kinds = [one.kind for one in told(shore, subject="fish-prices")][::-1]
    assert kinds == [
        *(ENDED, BEGUN, CONFIRMED),
        *(ENDED, BEGUN, ENDED),
        # The end in a month gives way to a sooner one, and comes back.
        *(ENDED, BEGUN, WITHDRAWN, CHANGED),
    ]


def test_what_begins_is_told_from_what_counted_before(shore):
    sell(shore, 6000, WEEK, 0)
    [begins] = [one for one in told(shore) if one.kind == BEGUN]
    assert [(figure.field, figure.before, figure.after) for figure in begins.changes] == [
        ("sold_minor_per_kg", 5500, 6000)
    ]
    assert begins.by == shore.manager


def test_a_stranger_and_another_row_see_none_of_it(shore):
    row = sell(shore, 6000, WEEK, 0)
    assert [one.id for one in told(shore, subject="fish-prices", id=row.pk)] == [row.pk]
    assert len(History(MemberFactory().cooperative, subject="fish-prices")) == 0


def test_rules_of_a_fare_that_was_changed_twice_on_one_day_are_told_one_after_the_other(shore):
    way = {"by": shore.manager, "carrier": shore.carrier, "route": shore.route, "valid_from": WEEK}
    for hours, amount in ((0, 31_000), (1, 32_000), (2, 33_000)):
        rules = [{"kind": "per_carton", "amount_minor": amount}]
        change_tariff(**way, rules=rules, now=NOW + timedelta(hours=hours))
    steps = [
        (rules.before[0]["amount_minor"], rules.after[0]["amount_minor"])
        for one in told(shore, subject="tariffs")[::-1]
        for rules in one.changes
        if rules.field == "rules"
    ]
    assert steps == [(30_000, 31_000), (31_000, 32_000), (32_000, 33_000)]
