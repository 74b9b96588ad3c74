"""Quotes with what became of them, and how much is left of the fish that they draw on."""

from datetime import timedelta

import pytest

from coop.errors import NotFound
from coop.models import Quote
from coop.selectors.quotes import most_left, own_quotes, quote_behind, quote_named, quotes_of, supplies_of
from tests.factories.lots import LotFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import ParcelCartonFactory, PartFactory
from tests.factories.quotes import QuoteFactory, QuoteQuestionFactory, SupplyFactory
from tests.selectors.queries import questions

pytestmark = pytest.mark.django_db


def accepted(quote, kg):
    lot = LotFactory(cooperative=quote.cooperative)
    answer = {"state": "accepted", "accepted_kg": kg, "answered_at": quote.issued_at, "lot": lot}
    Quote.objects.filter(pk=quote.pk).update(**answer)


def test_a_quote_that_nobody_answered_expires_on_the_second():
    quote = QuoteFactory()
    for now, state in (
        (quote.valid_until - timedelta(seconds=1), "issued"),
        (quote.valid_until, "expired"),
        (quote.valid_until + timedelta(days=9), "expired"),
    ):
        assert quote_named(quote.cooperative, quote.uuid, now).shown_state == state
    accepted(quote, 40.0)
    assert quote_named(quote.cooperative, quote.uuid, quote.valid_until).shown_state == "accepted"


def test_what_is_left_is_what_nobody_accepted_of_this_supply():
    supply = SupplyFactory(mass_kg=100.5)
    first, second, third = (QuoteFactory(supply=supply, cooperative=supply.cooperative) for _ in range(3))
    accepted(QuoteFactory(cooperative=supply.cooperative), 50.0)
    accepted(first, 40.0)
    now = first.issued_at
    assert {quote.left_kg for quote in quotes_of(supply.cooperative, now).filter(supply=supply)} == {60.5}
    assert most_left(quote_named(supply.cooperative, third.uuid, now)) == 60.0
    accepted(second, 55.0)
    assert most_left(quote_named(supply.cooperative, third.uuid, now)) is None


def test_of_a_lot_no_more_is_left_for_a_quote_than_for_anybody():
    lot = LotFactory(mass_kg=100.0, may_be_split=True)
    ours = {"cooperative": lot.cooperative}
    first, second = (
        QuoteFactory(**ours, supply=SupplyFactory(**ours, member=lot.member, mass_kg=kg, lot=lot))
        for kg in (60.0, 80.0)
    )

    def left():
        found = quotes_of(lot.cooperative, first.issued_at).in_bulk([first.pk, second.pk])
        return found[first.pk].left_kg, found[second.pk].left_kg

    assert left() == (60.0, 80.0)
    accepted(first, 40.0)
    assert left() == (20.0, 60.0)
    parcel = {f"parcel__{name}": getattr(lot, name) for name in ("cooperative", "route", "buyer")}
    PartFactory(lot=lot, carton=ParcelCartonFactory(**parcel), mass_kg=45.0)
    assert left() == (15.0, 15.0)
    assert most_left(quote_named(lot.cooperative, second.uuid, first.issued_at)) is None


def test_of_a_withdrawn_lot_nothing_is_left():
    lot = LotFactory(mass_kg=100.0, withdrawn_at=LotFactory().ready_at)
    ours = {"cooperative": lot.cooperative}
    QuoteFactory(**ours, supply=SupplyFactory(**ours, member=lot.member, lot=lot))
    [quote] = quotes_of(lot.cooperative, lot.ready_at)
    assert quote.left_kg == 0.0


def test_a_member_sees_what_she_made_and_what_sells_her_fish():
    quote = QuoteFactory()
    packer, fellow = (MemberFactory(cooperative=quote.cooperative) for _ in range(2))
    for_her = QuoteFactory(cooperative=quote.cooperative, supply=quote.supply, made_by=packer)
    seen = {
        who: set(own_quotes(quote.cooperative, who, quote.issued_at))
        for who in (quote.made_by, packer, fellow)
    }
    assert seen == {quote.made_by: {quote, for_her}, packer: {for_her}, fellow: set()}


def test_another_cooperative_has_others():
    quote, other = QuoteFactory(), QuoteFactory()
    assert list(quotes_of(quote.cooperative, quote.issued_at)) == [quote]
    assert list(supplies_of(other.cooperative)) == [other.supply]
    with pytest.raises(NotFound):
        quote_named(other.cooperative, quote.uuid, quote.issued_at)


def test_a_link_opens_its_quote_by_its_digest_alone():
    quote = QuoteFactory()
    assert quote_behind(quote.secret_digest, quote.issued_at) == quote
    for wrong in (quote.secret, "", quote.secret_digest.upper()):
        with pytest.raises(NotFound):
            quote_behind(wrong, quote.issued_at)


def test_many_quotes_are_read_in_as_few_questions_as_one():
    quote = QuoteFactory()

    def read():
        return [
            (
                one.supply.member.name,
                one.timetable.carrier.name,
                one.route.origin.name,
                [*one.questions.all()],
            )
            for one in quotes_of(quote.cooperative, quote.issued_at)
        ]

    QuoteQuestionFactory(quote=quote)
    for_one = questions(read)
    for _ in range(9):
        QuoteQuestionFactory(quote__cooperative=quote.cooperative)
    assert questions(read) == for_one
