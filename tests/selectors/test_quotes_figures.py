"""Figures of a quote: worked out again from what was known then, they are the same to the coin."""

from datetime import UTC, datetime, timedelta
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.engines.money import exact
from coop.errors import Failure
from coop.models import Quote
from coop.selectors.cost import prices_for
from coop.selectors.quotes_figures import (
    minute_after,
    minute_before,
    reckoning_of,
    round_down,
    round_up,
    valid_until_of,
    worked_out_again,
)
from coop.selectors.quotes_ladder import ladder_figures, price_of, step_kg, total_of, weights_of
from coop.services.quotes import Fish, Wanted, make_quote
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.scene import trade
from tests.services.packing_day import packing_day
from tests.services.price_changes import START, begun, changed_at_random
from tests.services.quoting_day import quoted

pytestmark = pytest.mark.django_db
CHANGES, QUOTED_EVERY = 1000, 50
MONEY = ("lines", "rungs", "ladder")


def quote_at(shore, chance, now):
    """A quote on a departure of the next days, whichever prices count; None where one is missing."""
    design = shore.cooperative.cartondesigns.filter(slug=shore.design.slug)
    day = now.date() + timedelta(days=chance.randint(1, 6))
    fish = Fish(
        member=shore.owner,
        species=shore.species,
        mass_kg=float(chance.randint(60, 150)),
        frozen_since=now - timedelta(days=3),
        ready_at=now - timedelta(days=1),
        start_temperature_c=-25.0,
    )
    kind = chance.choice(["mark_up", "margin"])
    try:
        wanted = Wanted(
            becomes="lot",
            buyer=shore.buyer,
            timetable=shore.timetable,
            date=day,
            design=design.on(day).get(),
            profit_kind=kind,
            profit_share=chance.randint(0, 60) / 100,
            language="en",
            fish=fish,
        )
        return make_quote(by=shore.owner, wanted=wanted, now=now).quote
    except (Failure, shore.design.DoesNotExist):
        return None


@settings(max_examples=1, deadline=None)
@given(seed=st.integers(0, 2**32))
def test_after_a_thousand_changes_every_quote_comes_out_again_to_the_coin(seed):
    shore, chance, now = begun(trade(CooperativeFactory())), Random(seed), START
    shore.owner = MemberFactory(cooperative=shore.cooperative)
    for number in range(CHANGES):
        now += timedelta(minutes=chance.randint(1, 300))
        changed_at_random(shore, chance, now)
        if number % QUOTED_EVERY == 0:
            quote_at(shore, chance, now)
    quotes = list(Quote.objects.all())
    assert len(quotes) >= 5
    for quote in quotes:
        again = worked_out_again(quote)
        assert {name: again[name] for name in MONEY} == {name: quote.figures[name] for name in MONEY}


def test_a_price_of_today_gives_another_ladder_than_what_was_known_then():
    """Otherwise the test above could not fail."""
    day = begun(packing_day())
    quote, _ = quoted(day)
    day.tariff.rules.update(amount_minor=90_000)
    prices = prices_for(day.cooperative, quote.route, quote.buyer, quote.supply.species)
    today = ladder_figures(prices, reckoning_of(quote, 1), weights_of(quote.figures), step=exact("step", 0.5))
    assert today["ladder"] != quote.figures["ladder"]


def test_every_line_of_every_weight_adds_up_to_its_cost():
    quote, _ = quoted(packing_day())
    figures = quote.figures
    for rung in figures["rungs"]:
        assert sum(amount or 0 for amount in rung["amounts_minor"]) == rung["cost_minor"]
    for step in figures["ladder"]:
        assert sum(line["amount_minor"] for line in step["lines"]) == step["cost_minor"]
        assert {line["code"] for line in step["lines"]} >= {"fish", "fare_per_carton", "material"}


def test_a_weight_that_is_not_offered_has_no_price():
    figures = quoted(packing_day()).quote.figures
    assert price_of(figures, 60.0) == figures["ladder"][-1]["price_minor_per_kg"]
    assert total_of(figures, 60.0) == 60 * figures["ladder"][-1]["price_minor_per_kg"]
    for kg in (60.25, 61.0, 0.0, -1.0, float("nan"), float("inf")):
        assert price_of(figures, kg) is None
        assert total_of(figures, kg) is None


@pytest.mark.parametrize(("most", "step"), [(1, 0.5), (200, 0.5), (200.1, 1), (400, 1), (401, 2), (5000, 20)])
def test_a_buyer_chooses_by_half_kilograms_until_those_are_too_many(most, step):
    assert step_kg(exact("most", most)) == step


def test_hours_are_whole_minutes_that_leave_nothing_out():
    exact_, later = datetime(2026, 3, 3, 7, tzinfo=UTC), datetime(2026, 3, 3, 7, 0, 0, 1, tzinfo=UTC)
    assert (minute_before(exact_), minute_after(exact_)) == (exact_, exact_)
    assert (minute_before(later), minute_after(later)) == (exact_, exact_ + timedelta(minutes=1))


@given(st.floats(0, 1))
def test_chances_are_rounded_down_and_softening_up(value):
    assert value - 0.001 <= round_down(value) <= value
    assert value <= round_up(value) <= value + 0.0001 + 1e-9


@pytest.mark.parametrize(
    ("ends", "asked", "until", "code"),
    [
        (None, None, datetime(2026, 3, 2, 13, tzinfo=UTC), "closes"),
        ("2026-03-02", None, datetime(2026, 3, 2, tzinfo=UTC), "ends"),
        ("2026-03-03", None, datetime(2026, 3, 2, 13, tzinfo=UTC), "closes"),
        ("2026-03-02", datetime(2026, 3, 1, 20, tzinfo=UTC), datetime(2026, 3, 1, 20, tzinfo=UTC), "asked"),
        ("2026-03-02", datetime(2026, 3, 2, 1, tzinfo=UTC), datetime(2026, 3, 2, tzinfo=UTC), "ends"),
    ],
)
def test_it_ends_with_the_first_of_what_was_asked_what_it_rests_on_and_closing(ends, asked, until, code):
    rows = [{"subject": "tariff", "valid_until": ends}, {"subject": "terms", "valid_until": None}]
    found, because = valid_until_of(rows, datetime(2026, 3, 2, 13, tzinfo=UTC), asked, UTC)
    assert (found, because["code"]) == (until, code)
    if code == "ends":
        assert because["subject"] == "tariff"
