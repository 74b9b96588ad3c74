"""Two buyers at the same moment: each in a thread with a connection of its own, on a database in a file."""

from coop.errors import Conflict, Gone
from coop.models import Lot, Parcel, Quote
from coop.selectors.lots import lot_named
from coop.services.quotes_answered import accept_quote, decline_quote
from tests.services.at_once import at_once
from tests.services.packing_day import NOW, lot, packing_day
from tests.services.quoting_day import quoted


def accept(secret, kg):
    return accept_quote(secret=secret, kg=kg, name="Mr Banda", now=NOW)


def test_of_two_who_accept_the_last_kilograms_at_once_one_wins(file_database):
    day = packing_day()
    first, secret = quoted(day)
    _, other = quoted(day, supply=first.supply)
    answers = at_once(*(lambda secret=one: accept(secret, 40.0) for one in (secret, other)))
    [refusal] = [answer for answer in answers if isinstance(answer, Gone)]
    [winner] = [answer for answer in answers if answer is not refusal]
    assert winner.state == "accepted"
    assert refusal.left_kg == 20.0
    assert Lot.objects.count() == Quote.objects.filter(state="accepted").count() == 1


def test_of_two_quotes_of_one_lot_that_are_accepted_at_once_one_wins(file_database):
    day = packing_day()
    hers = lot(day, mass_kg=45.0)
    secrets = [quoted(day, lot=hers).secret for _ in range(2)]
    answers = at_once(*(lambda secret=one: accept(secret, 30.0) for one in secrets))
    [refusal] = [answer for answer in answers if isinstance(answer, Gone)]
    [winner] = [answer for answer in answers if answer is not refusal]
    assert winner.state == "accepted"
    left = lot_named(day.cooperative, hers.uuid)
    assert (left.promised_kg, left.left_kg) == (30.0, 15.0)
    assert refusal.left_kg in (0.0, 15.0)


def test_one_quote_that_is_accepted_twice_at_once_is_accepted_once(file_database):
    day = packing_day()
    _, secret = quoted(day, by=day.packer, becomes="parcel")
    answers = at_once(*(2 * [lambda: accept(secret, 40.0)]))
    assert [answer.state for answer in answers] == ["accepted", "accepted"]
    assert (Lot.objects.count(), Parcel.objects.count()) == (1, 2)


def test_accepting_and_declining_at_once_is_one_of_both(file_database):
    day = packing_day()
    _, secret = quoted(day)
    answers = at_once(lambda: accept(secret, 40.0), lambda: decline_quote(secret=secret, now=NOW))
    assert sum(isinstance(answer, Conflict) for answer in answers) == 1
    assert Lot.objects.count() == (Quote.objects.get().state == "accepted")
