"""Which quotes would lose money by what is known today, and why."""

from dataclasses import replace
from datetime import timedelta

import pytest

from coop.models import Tariff, TariffRule
from coop.selectors.cost import prices_for
from coop.selectors.quotes_losing import losing_quotes
from coop.services.quotes import revoke_quote
from coop.services.quotes_answered import accept_quote, decline_quote
from tests.factories.parcels import DEPARTS_AT
from tests.services.packing_day import NOW, packing_day
from tests.services.quoting_day import fish, quoted

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    return packing_day()


def losing(day, now=NOW, **options):
    return losing_quotes(day.cooperative, now=now, **options)


def fare(day, amount_minor):
    TariffRule.objects.filter(tariff=day.tariff).update(amount_minor=amount_minor)


def test_a_quote_with_profit_loses_nothing_while_nothing_moves(day):
    quoted(day)
    quoted(day, profit_share=0.0)
    assert losing(day) == []


def test_a_fare_that_eats_the_profit_and_more_is_found_with_the_line_that_moved(day):
    quote, _ = quoted(day, profit_share=0.1)
    fare(day, 60_000)
    [found] = losing(day)
    assert found.quote == quote
    assert [(line.code, line.before_minor, line.after_minor) for line in found.why] == [
        ("fare_per_carton", 30_000, 60_000)
    ]
    rung = next(one for one in quote.figures["rungs"] if one["kg"] == found.kg)
    step = next(one for one in quote.figures["ladder"] if one["from_kg"] <= found.kg <= one["to_kg"])
    # What it now costs, less what the buyer pays for what arrives sound; drip is less than a hundredth.
    least = rung["cost_minor"] + 30_000 - step["price_minor_per_kg"] * found.kg
    assert least <= found.loses_minor <= least * 1.02 + 1000
    assert found.loses_minor_per_kg * found.kg >= found.loses_minor


def test_a_fare_within_the_profit_loses_nothing(day):
    quoted(day, profit_share=1.0)
    fare(day, 40_000)
    assert losing(day) == []


def test_of_an_accepted_quote_what_was_accepted_counts(day):
    quote, secret = quoted(day, profit_share=0.05)
    accept_quote(secret=secret, kg=60.0, name="B", now=NOW)
    fare(day, 90_000)
    [found] = losing(day)
    assert (found.quote, found.kg) == (quote, 60.0)
    # Once it has left nothing can be done about it.
    assert losing(day, now=DEPARTS_AT) == []


def test_what_nobody_may_accept_any_more_loses_nothing(day):
    first, secret = quoted(day)
    expired, _ = quoted(day, valid_until=NOW + timedelta(hours=1))
    revoked, _ = quoted(day)
    _, declined = quoted(day)
    sold_out, _ = quoted(day, supply=first.supply)
    revoke_quote(by=day.owner, quote=revoked, now=NOW)
    decline_quote(secret=declined, now=NOW)
    accept_quote(secret=secret, kg=60.0, name="B", now=NOW)
    fare(day, 200_000)
    names = {found.quote for found in losing(day, now=expired.valid_until)}
    assert names == {first}
    assert sold_out not in names


def test_a_quote_whose_cost_is_not_known_any_more_comes_first_and_says_what_is_missing(day):
    quoted(day)
    Tariff.objects.all().delete()
    [found] = losing(day)
    assert found.loses_minor is None
    assert "fare of" in found.missing


def test_the_worst_comes_first(day):
    small, _ = quoted(day, by=day.packer, profit_share=0.02)
    large, _ = quoted(day, by=day.packer, profit_share=0.02, fish=fish(day, mass_kg=200.0))
    fare(day, 60_000)
    assert [found.quote for found in losing(day)] == [large, small]


def test_a_change_is_tried_before_it_is_saved(day):
    quoted(day, profit_share=0.1)

    def dearer(*way):
        prices = prices_for(*way)
        rows = tuple(dear(row) for row in prices.fish_prices)
        return replace(prices, fish_prices=rows)

    def dear(row):
        row.bought_minor_per_kg *= 3
        return row

    assert losing(day) == []
    [found] = losing(day, prices_of=dearer)
    assert found.why[0].code == "fish"
    assert losing(day) == []


def test_others_lose_by_themselves(day):
    quoted(day, profit_share=0.0)
    fare(day, 90_000)
    assert losing(packing_day()) == []
