"""What the database itself holds of quotes: nothing that was issued changes, nothing is sold twice."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import IntegrityError, transaction

from coop.models import Quote, QuoteQuestion, Supply
from tests.factories.buyers import BuyerFactory
from tests.factories.lots import LotFactory
from tests.factories.parcels import ParcelFactory
from tests.factories.quotes import QuoteFactory, QuoteQuestionFactory, SupplyFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


@pytest.fixture
def quote():
    return QuoteFactory()


def accepted(quote, kg=40.0, **columns):
    lot = LotFactory(cooperative=quote.cooperative)
    answer = {"state": "accepted", "accepted_kg": kg, "answered_at": quote.issued_at, "lot": lot}
    change(quote, **(answer | columns))


@pytest.mark.parametrize(
    "columns",
    [
        {"figures": {"ladder": []}},
        {"least_kg": 41.0},
        {"most_kg": 59.0},
        {"profit_share": 0.3},
        {"profit_kind": "margin"},
        {"becomes": "parcel"},
        {"language": "fr"},
    ],
)
def test_what_was_issued_never_changes(quote, columns):
    with refused("quote_figures_never_change"):
        change(quote, **columns)


def test_its_hours_and_its_rows_never_change(quote):
    for columns in (
        {"valid_until": quote.valid_until - timedelta(minutes=1)},
        {"issued_at": quote.issued_at - timedelta(minutes=1)},
        {"departs_at": quote.departs_at + timedelta(minutes=1)},
        {"buyer": BuyerFactory(cooperative=quote.cooperative)},
        {"supply": SupplyFactory(cooperative=quote.cooperative)},
    ):
        with refused("quote_figures_never_change"):
            change(quote, **columns)


def test_a_quote_begins_issued(quote):
    with refused("quote_begins_issued"):
        twin(quote, uuid=uuid4(), secret_digest="x", state="declined", answered_at=quote.issued_at)


@pytest.mark.parametrize("state", ["accepted", "declined", "revoked"])
def test_an_answer_stays(quote, state):
    if state == "accepted":
        accepted(quote)
    elif state == "declined":
        change(quote, state=state, answered_at=quote.issued_at)
    else:
        change(quote, state=state, revoked_at=quote.issued_at)
    empty = {"answered_at": None, "accepted_kg": None, "lot": None, "revoked_at": None}
    for columns in ({"state": "issued", **empty}, {"note": "other"}, {"answered_by_name": "other"}):
        with refused("quote_answered_stays"):
            change(quote, **columns)
    # Its link may still be renewed.
    change(quote, secret_digest="renewed")


def test_no_quote_and_no_question_vanishes_or_changes(quote):
    question = QuoteQuestionFactory(quote=quote)
    with refused("quote_question_never_changes"):
        change(question, text="other")
    with refused("quote_question_never_vanishes"):
        QuoteQuestion.objects.filter(pk=question.pk).delete()
    with refused("quote_never_vanishes"):
        Quote.objects.filter(pk=quote.pk)._raw_delete("default")


def test_a_question_says_something(quote):
    with refused("quote_question_says_something"):
        QuoteQuestionFactory(quote=quote, text="")


def test_a_supply_never_changes():
    with refused("supply_never_changes"):
        change(SupplyFactory(), mass_kg=100.0)


def test_no_more_is_accepted_of_a_supply_than_there_is():
    supply = SupplyFactory(mass_kg=100.0)
    first, second, third = (QuoteFactory(supply=supply, cooperative=supply.cooperative) for _ in range(3))
    accepted(first, 45.0)
    with refused("quote_within_its_supply"):
        accepted(second, 56.0)
    accepted(second, 55.0)
    with refused("quote_within_its_supply"):
        accepted(third, 40.0)
    assert Supply.objects.get().quotes.filter(state="accepted").count() == 2


@pytest.mark.parametrize(
    ("columns", "rule"),
    [
        ({"state": "accepted"}, "quote_state_agrees_with_its_answer"),
        ({"state": "declined"}, "quote_state_agrees_with_its_answer"),
        ({"state": "revoked"}, "quote_state_agrees_with_its_answer"),
        ({"state": "lost"}, "quote_state"),
    ],
)
def test_a_state_agrees_with_how_it_was_answered(quote, columns, rule):
    with refused(rule):
        change(quote, **columns)


def test_it_is_accepted_while_it_is_valid_and_as_it_offers():
    quote = QuoteFactory(supply__mass_kg=100.0)
    for kg, columns in (
        (40.0, {"answered_at": quote.valid_until}),
        (40.0, {"answered_at": quote.issued_at - timedelta(seconds=1)}),
        (39.9, {}),
        (60.1, {}),
    ):
        with refused("quote_accepted_while_it_was_valid"):
            accepted(quote, kg, **columns)
    accepted(quote, 40.0, answered_at=quote.valid_until - timedelta(seconds=1))


def test_a_parcel_that_is_given_up_is_named_no_more_and_no_other_takes_its_place():
    quote = QuoteFactory(becomes="parcel")
    parcel, other = (ParcelFactory(cooperative=quote.cooperative) for _ in range(2))
    accepted(quote, parcel=parcel)
    with refused("quote_parcel_stays"):
        change(quote, parcel=other)
    parcel.delete()
    quote.refresh_from_db()
    assert (quote.state, quote.parcel) == ("accepted", None)
    with refused("quote_parcel_stays"):
        change(quote, parcel=other)


def test_only_what_became_a_parcel_names_one(quote):
    with refused("quote_parcel_of_an_accepted_one"):
        accepted(quote, parcel=ParcelFactory(cooperative=quote.cooperative))


@pytest.mark.parametrize("name", ["supply", "buyer", "route", "timetable", "design", "made_by"])
def test_it_names_rows_of_its_own_cooperative_only(name):
    quote, strange = QuoteFactory(), getattr(QuoteFactory(), name)
    with refused(f"quote_{name}_of_its_cooperative"):
        twin(quote, uuid=uuid4(), secret_digest="x", **{name: strange})


def test_a_lot_and_a_parcel_of_strangers_are_refused(quote):
    with refused("quote_lot_of_its_cooperative"):
        accepted(quote, lot=LotFactory())
    parcel = QuoteFactory(becomes="parcel")
    with refused("quote_parcel_of_its_cooperative"):
        accepted(parcel, parcel=ParcelFactory())


@pytest.mark.parametrize(
    ("columns", "rule"),
    [
        ({"profit_share": 10.1}, "quote_profit_share_range"),
        ({"profit_share": -0.1}, "quote_profit_share_range"),
        ({"profit_share": 0.96, "profit_kind": "margin"}, "quote_margin_is_below_the_price"),
        ({"least_kg": 60.5}, "quote_begins_with_the_least"),
        ({"language": "xx"}, "quote_language_known"),
        ({"becomes": "cart"}, "quote_becomes_known"),
    ],
)
def test_what_is_out_of_range_is_refused(columns, rule):
    with refused(rule):
        QuoteFactory(**columns)


def test_it_is_valid_for_a_while_and_not_after_it_left(quote):
    for until in (quote.issued_at, quote.departs_at + timedelta(seconds=1)):
        with refused("quote_counts_for_a_while"):
            QuoteFactory(valid_until=until)


def test_two_quotes_never_have_one_link(quote):
    with pytest.raises(IntegrityError), transaction.atomic():
        QuoteFactory(secret=quote.secret)


def test_what_a_quote_calls_itself_names_no_secret(quote):
    assert quote.secret not in str(quote)
    assert quote.secret_digest not in str(quote)
