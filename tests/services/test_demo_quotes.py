"""The invented cooperative has quotes in every state, whatever the day on which it is loaded."""

from datetime import UTC, datetime

import pytest
from django.db import transaction

from coop.models import Lot, Quote, QuoteQuestion, Supply
from coop.selectors.cooperatives import demo_cooperative
from coop.selectors.quotes import QUOTE_STATES, quotes_of
from coop.selectors.quotes_figures import worked_out_again
from coop.selectors.quotes_losing import losing_quotes
from coop.services import demo
from coop.services.demo import load_demo

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("loaded")]

# A Saturday morning in the heat, and a Sunday night at the end of the cold months.
LOADED = (datetime(2026, 11, 28, 8, tzinfo=UTC), datetime(2026, 8, 30, 21, tzinfo=UTC))


@pytest.fixture(scope="module", params=LOADED, ids=lambda now: f"{now:%A}")
def loaded(request, django_db_setup, django_db_blocker):
    """Loaded once for all tests of this file, without what is on the road, and taken back after them."""
    with django_db_blocker.unblock(), transaction.atomic(), pytest.MonkeyPatch.context() as patch:
        patch.setattr(demo, "fill_demo", lambda cooperative, now: 0)
        load_demo(now=request.param)
        yield request.param
        transaction.set_rollback(True)


def test_there_is_a_quote_in_every_state(loaded):
    found = quotes_of(demo_cooperative(), loaded)
    assert {quote.shown_state for quote in found} == set(QUOTE_STATES)
    assert {quote.becomes for quote in found} == {"lot", "parcel"}
    assert QuoteQuestion.objects.count() == 1


def test_two_quotes_draw_on_one_supply():
    assert max(supply.quotes.count() for supply in Supply.objects.all()) == 2


def test_what_was_accepted_is_a_lot_that_waits():
    assert Lot.objects.get().quotes.get().state == "accepted"


def test_none_loses_money_and_each_comes_out_again_to_the_coin(loaded):
    assert losing_quotes(demo_cooperative(), now=loaded) == []
    for quote in Quote.objects.all():
        again = worked_out_again(quote)
        assert {name: quote.figures[name] for name in again} == again


def test_every_one_is_as_sure_as_the_cooperative_wants_it():
    for quote in Quote.objects.all():
        assert quote.figures["chance_hard"] >= quote.figures["confidence"]
