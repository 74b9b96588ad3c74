"""Any day's cost comes out again as it was known at any instant, however often prices changed since.

No published figures: what is compared is the bill that was worked out from the stored rows at that instant,
line by line, with the one that is worked out from the history at the end.
"""

from datetime import UTC, datetime, timedelta
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.errors import NotFound
from coop.models import CartonDesign, FishPrice
from coop.selectors.cartons import carton_designs_of
from coop.selectors.cost import bill_of, prices_for
from coop.selectors.prices_known import prices_known_at
from coop.services import changes
from coop.services.charges import change_charge
from coop.services.fish_prices import change_fish_price
from coop.services.tariffs import change_tariff
from tests.factories.buyers import BuyerFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.services.price_changes import START, begun, changed_at_random

pytestmark = pytest.mark.django_db
CHANGES, READ_EVERY = 1000, 50
DAYS = (-400, -30, -1, 0, 1, 9, 40)


@pytest.fixture
def shore():
    return begun(trade(CooperativeFactory()))


def bill(prices, shore, design, day):
    return bill_of(
        prices, carrier=shore.carrier, design=design, mass_kg=73.0, cartons=1, day=day,
        softened_share=0.0131, with_fish=True,
    )  # fmt: skip


def today_known(shore):
    return prices_for(shore.cooperative, shore.route, shore.buyer, shore.species)


def then_known(shore, instant, design):
    return prices_known_at(instant, shore.cooperative, shore.route, shore.buyer, shore.species, design)


def lines(found):
    if found.cost is None:
        return found.missing
    return [(line.code, line.name, line.amount_minor, line.priced_on) for line in found.cost.lines]


def read_now(shore, now):
    """For some days around now the version of the design that counts, and the lines of its bill."""
    prices, found = today_known(shore), []
    for days in DAYS:
        day = now.date() + timedelta(days=days)
        for design in carton_designs_of(shore.cooperative).on(day):
            found.append((now, design.pk, day, lines(bill(prices, shore, design, day))))
    return found


@settings(max_examples=1, deadline=None)
@given(seed=st.integers(0, 2**32))
def test_after_a_thousand_changes_every_past_cost_comes_out_again(seed):
    shore, chance, now, seen = begun(trade(CooperativeFactory())), Random(seed), START, []
    for number in range(CHANGES):
        now += timedelta(minutes=chance.randint(1, 900))
        changed_at_random(shore, chance, now)
        if number % READ_EVERY == 0:
            seen += read_now(shore, now)
    known = {}
    for instant, pk, day, said in seen:
        if (instant, pk) not in known:
            known[instant, pk] = then_known(shore, instant, CartonDesign.objects.get(pk=pk))
        prices, design = known[instant, pk]
        assert lines(bill(prices, shore, design, day)) == said
    totals = {tuple(said) for _, _, _, said in seen}
    # A history in which nothing moves would prove nothing.
    assert len(totals) > CHANGES // READ_EVERY


def test_a_change_that_was_written_later_is_not_known_before(shore):
    first, later = START + timedelta(hours=1), START + timedelta(hours=2)
    tomorrow = (START + timedelta(days=1)).date()
    rules = [{"kind": "per_carton", "amount_minor": 44_000}]
    change_tariff(
        by=shore.manager,
        carrier=shore.carrier,
        route=shore.route,
        valid_from=tomorrow,
        rules=rules,
        now=later,
    )
    assert sum(fare_lines(shore, first, tomorrow)) == 30_000
    assert sum(fare_lines(shore, later, tomorrow)) == 44_000


def fare_lines(shore, instant, day):
    prices, design = then_known(shore, instant, shore.design)
    return [
        line.amount_minor
        for line in bill(prices, shore, design, day).cost.lines
        if line.code == "fare_per_carton"
    ]


def test_what_was_withdrawn_is_known_for_as_long_as_it_was_written(shore):
    tomorrow = (START + timedelta(days=1)).date()
    figures = {"bought_minor_per_kg": 9000, "sold_minor_per_kg": 9900, "soft_minor_per_kg": 100}
    at = [START + timedelta(hours=hours) for hours in range(4)]
    row = change_fish_price(
        by=shore.manager, species=shore.species, valid_from=tomorrow, now=at[1], **figures
    )
    changes.withdraw(row, shore.manager, now=at[3])

    def bought(instant):
        rows = then_known(shore, instant, shore.design).prices.fish_prices
        return [row.bought_minor_per_kg for row in rows if row.counts_on(tomorrow)]

    assert [bought(instant) for instant in at] == [[3000], [9000], [9000], [3000]]
    assert FishPrice.objects.of(shore.cooperative).count() == 1


def test_charges_of_other_routes_and_buyers_are_left_out(shore):
    change_charge(
        by=shore.manager, kind="papers", name="Permit", basis="consignment", amount_minor=700,
        valid_from=START.date(), buyer=shore.buyer, now=START,
    )  # fmt: skip
    strange, other = trade(CooperativeFactory()), BuyerFactory(cooperative=shore.cooperative)
    known = prices_known_at(START, shore.cooperative, shore.route, other, shore.species, shore.design)
    assert "Permit" not in {row.name for row in known.prices.charges}
    assert strange.tariff not in known.prices.tariffs


def test_a_design_that_was_not_known_yet_is_named(shore):
    with pytest.raises(NotFound, match="was not known yet"):
        then_known(shore, datetime(1999, 1, 1, tzinfo=UTC), shore.design)


def test_it_takes_a_fixed_number_of_questions(shore, django_assert_max_num_queries):
    with django_assert_max_num_queries(11):
        prices, design = then_known(shore, START, shore.design)
        assert bill(prices, shore, design, START.date()).cost.total > 0
