"""A write is answered once: the first answer is kept beside what it did."""

from datetime import UTC, datetime, timedelta
from threading import Event
from uuid import uuid4

import pytest
from django.db import connection

from coop.errors import KeyTaken
from coop.models import Lot, Write
from coop.services.lots import offer_lot
from coop.services.writes import KEPT_FOR, Answer, answered_once, undisturbed
from tests.factories.lots import LotFactory
from tests.factories.members import MemberFactory
from tests.factories.scene import trade
from tests.factories.writes import WriteFactory
from tests.services.at_once import at_once

NOW = datetime(2026, 3, 1, 12, tzinfo=UTC)
MARK, OTHER = "a" * 64, "b" * 64


@pytest.fixture
def member(db):
    return MemberFactory()


@pytest.fixture
def several(request, django_db_setup, django_db_blocker):
    """A database that several threads write to: a file, or PostgreSQL where that is what is tested."""
    if connection.vendor != "postgresql":
        yield request.getfixturevalue("file_database")
        return
    with django_db_blocker.unblock():
        yield connection
        # Django's own flush trips over a table of knox that nothing uses.
        with connection.cursor() as cursor:
            cursor.execute("TRUNCATE coop_cooperative, auth_user CASCADE")


def offering(member, status=201, body='{"it": "is there"}'):
    """An act that offers a lot whenever it is done."""

    def act():
        LotFactory(cooperative=member.cooperative, member=member)
        return Answer(status, body)

    return act


def once(member, key, act, mark=MARK, now=NOW):
    return answered_once(member=member, key=key, fingerprint=mark, act=act, now=now)


def test_a_second_copy_gets_the_first_answer_and_does_nothing(member):
    key = uuid4()
    first = once(member, key, offering(member))
    assert once(member, key, offering(member, 200, "another")) == first == Answer(201, '{"it": "is there"}')
    assert member.lots.count() == 1


def test_the_same_key_with_something_else_is_refused_and_so_is_nothing_of_a_fellow(member):
    key = uuid4()
    once(member, key, offering(member))
    with pytest.raises(KeyTaken) as refusal:
        once(member, key, offering(member), mark=OTHER)
    assert refusal.value.problems[0].value == str(key)
    assert member.lots.count() == 1
    fellow = MemberFactory(cooperative=member.cooperative)
    once(fellow, key, offering(fellow), mark=OTHER)
    assert fellow.lots.count() == 1


def test_what_was_refused_is_tried_anew_even_as_something_else(member):
    key = uuid4()
    assert once(member, key, lambda: Answer(409, "no room")).status == 409
    assert not Write.objects.exists()
    assert once(member, key, offering(member), mark=OTHER).status == 201


def test_what_failed_leaves_nothing_neither_rows_nor_an_answer(member):
    key = uuid4()
    assert once(member, key, offering(member, 500)).status == 500
    assert (Lot.objects.count(), Write.objects.count()) == (0, 0)

    def breaks():
        LotFactory(cooperative=member.cooperative)
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        once(member, key, breaks)
    assert (Lot.objects.count(), Write.objects.count()) == (0, 0)
    assert once(member, key, offering(member)).status == 201


def test_answers_are_kept_for_60_days_and_dropped_on_the_way(member):
    old = WriteFactory(member=member, cooperative=member.cooperative, made_at=NOW - KEPT_FOR - timedelta(1))
    young = WriteFactory(member=member, cooperative=member.cooperative, made_at=NOW - KEPT_FOR)
    strange = WriteFactory(made_at=old.made_at)
    once(member, uuid4(), offering(member))
    kept = set(Write.objects.values_list("key", flat=True))
    assert old.key not in kept
    assert {young.key, strange.key} < kept


def test_what_is_looked_at_undisturbed_is_taken_back_if_it_fails(member):
    assert undisturbed(member=member, act=offering(member)).status == 201
    assert undisturbed(member=member, act=offering(member, 500)).status == 500
    assert member.lots.count() == 1


def copies_of(member, count):
    """So many copies of one offer, all at one moment."""
    shore, key = trade(member.cooperative), uuid4()
    done = []

    def act():
        lot = offer_lot(
            by=member,
            route=shore.route,
            buyer=shore.buyer,
            species=shore.species,
            mass_kg=20.0,
            frozen_since=NOW - timedelta(days=2),
            ready_at=NOW - timedelta(days=1),
            start_temperature_c=-18.0,
            now=NOW,
        )
        done.append(lot.uuid)
        return Answer(201, f'{{"id": "{lot.uuid}"}}')

    return done, at_once(*(count * [lambda: once(member, key, act)]))


def test_of_eight_copies_at_once_one_does_it_and_the_others_wait_for_its_answer(several):
    done, answers = copies_of(MemberFactory(), 8)
    assert len(set(answers)) == 1
    assert answers[0].body == f'{{"id": "{done[0]}"}}'
    assert len(done) == Lot.objects.count() == Write.objects.count() == 1


def test_a_copy_that_waited_for_a_refusal_is_tried_itself(several):
    member, key, inside = MemberFactory(), uuid4(), Event()

    def refused():
        inside.set()
        return Answer(409, "no room")

    def later():
        inside.wait(timeout=60)
        return once(member, key, lambda: Answer(201, "done"))

    answers = at_once(lambda: once(member, key, refused), later)
    assert [answer.status for answer in answers] == [409, 201]
