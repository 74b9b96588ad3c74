"""What stands on the buyer's page for one quote and one moment."""

from datetime import timedelta

import pytest

from api.quote_sheet import sheet_of
from coop.selectors.quotes import quote_named
from tests.factories.quotes import QuoteFactory, SupplyFactory, figures

pytestmark = pytest.mark.django_db


def sheet(quote, **options):
    now = quote.issued_at + timedelta(hours=1)
    return sheet_of(quote_named(quote.cooperative, quote.uuid, now), **options)


def test_each_price_says_for_which_weights_and_what_the_least_of_them_come_to():
    rows = sheet(QuoteFactory())["prices"]
    assert [(row["weight"], row["kilogram"], row["whole"]) for row in rows] == [
        ("40 to 49", "K125.00", "40 kg: K5,000.00"),
        ("50 to 60", "K100.00", "50 kg: K5,000.00"),
    ]


def test_without_a_weight_asked_for_nothing_can_be_accepted_yet():
    choice = sheet(QuoteFactory())["choice"]
    assert "accept" not in choice
    assert (choice["least"], choice["most"], choice["step"], choice["kg"]) == ("40", "60", "1", "60")


def test_with_one_it_says_what_it_comes_to():
    choice = sheet(QuoteFactory(), kg=41.0)["choice"]
    assert choice["accept"] == "Accept 41 kg for K5,125.00"


def test_more_than_is_left_is_not_offered():
    supply = SupplyFactory(mass_kg=55.5)
    found = sheet(QuoteFactory(supply=supply, cooperative=supply.cooperative), kg=60.0)["choice"]
    assert "accept" not in found
    assert found["most"] == "55"
    assert found["left"] == "55 kg can still be had."


@pytest.mark.parametrize(("prone", "lines"), [(False, 4), (True, 5)])
def test_fish_that_can_carry_histamine_is_named_so(prone, lines):
    species = {**figures()["species"], "histamine_prone": prone}
    care = sheet(QuoteFactory(figures=figures(species=species)))["parts"][-1]
    assert (care["title"], len(care["lines"])) == ("Take care", lines)


def test_fish_that_comes_before_the_buyer_opens_comes_when_he_does():
    hour = "2026-03-03T07:00:00+02:00"
    when = sheet(QuoteFactory(figures=figures(arrives_from=hour, arrives_until=hour)))["parts"][0]
    assert "In your freezer at Tue, 3 Mar, 07:00, in eight cases of ten." in when["lines"]


def test_what_leaves_when_it_is_full_says_so():
    when = sheet(QuoteFactory(figures=figures(leaves_when_full=True)))["parts"][0]
    assert any("when it is full" in line for line in when["lines"])


@pytest.mark.parametrize(
    ("because", "words"),
    [("asked", "keeps it for you"), ("ends", "ends then"), ("closes", "closed then")],
)
def test_it_says_why_it_ends(because, words):
    found = sheet(QuoteFactory(figures=figures(valid_until_because={"code": because})))["parts"][2]
    assert words in found["lines"][0]


def test_no_cost_and_no_profit_is_told_to_a_buyer():
    told = str(sheet(QuoteFactory(), kg=40.0))
    assert "4,000.00" not in told
    assert "25" not in told.replace("K125.00", "").replace("5,125.00", "")
