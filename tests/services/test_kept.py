"""Whatever changes, and whichever answer is lost on its way: the phone has what the server would say."""

from datetime import UTC, datetime, timedelta

import pytest
from django.db import transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as some
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from coop.models import Kept
from coop.services.kept import MOST_CURSORS, give
from coop.services.phones import put_out
from tests.factories.phones import token_of
from tests.services.kept_phone import KeptPhone

NOW = datetime(2026, 3, 2, 6, tzinfo=UTC)
DEPARTURES = [f"/departures/?from=2026-03-0{day}" for day in (2, 3)]
PATHS = some.sampled_from(["/lots/?page_size=100", "/lots/a/", "/statement/", *DEPARTURES])
VALUES = some.integers(0, 2)
ROWS = some.dictionaries(some.sampled_from("abcd"), VALUES, max_size=4)


def listed(rows, kind):
    return {"count": len(rows), kind: [{"id": name, "kg": value} for name, value in rows.items()]}


ANSWERS = some.one_of(
    some.builds(listed, ROWS, some.sampled_from(["results", "entries"])),
    some.dictionaries(some.sampled_from(["state", "mine", "worked"]), VALUES, max_size=3),
)


class Keeping(RuleBasedStateMachine):
    """One phone, a server on which everything changes, and a line on which answers get lost or come twice."""

    def __init__(self):
        super().__init__()
        self.undone = transaction.atomic()
        self.undone.__enter__()
        self.token, self.at = token_of()[0], NOW
        self.server, self.phone = {}, KeptPhone()

    def teardown(self):
        transaction.set_rollback(True)
        self.undone.__exit__(None, None, None)

    @rule(path=PATHS, answer=ANSWERS)
    def something_changes(self, path, answer):
        self.server[path] = answer

    @rule(path=PATHS)
    def something_goes(self, path):
        self.server.pop(path, None)

    @rule(path=PATHS)
    def rows_change_places(self, path):
        answer = self.server.get(path, {})
        if "results" in answer:
            self.server[path] = answer | {"results": answer["results"][::-1]}

    @rule(lost=some.booleans(), twice=some.booleans())
    def the_phone_asks(self, lost, twice):
        self.at += timedelta(seconds=1)
        answers = [self.answer() for _ in range(1 + twice)]
        assert answers[0]["cursor"] == answers[-1]["cursor"]
        if not lost:
            self.phone.take(answers[-1])
            assert self.phone.documents == self.server

    @rule()
    def the_phone_loses_its_cursor(self):
        self.phone.cursor = None

    @rule()
    def the_server_forgets(self):
        Kept.objects.of(self.token.phone.cooperative).all().delete()

    def answer(self):
        documents = dict(self.server)
        return give(token=self.token, documents=documents, since=self.phone.cursor, at=self.at)._asdict()

    @invariant()
    def no_more_is_remembered_than_two_cursors(self):
        assert self.token.kept.count() <= MOST_CURSORS


@pytest.mark.django_db
def test_the_phone_has_what_the_server_says_whatever_was_lost():
    run_state_machine_as_test(
        Keeping,
        settings=settings(
            max_examples=30,
            stateful_step_count=30,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        ),
    )


def lots(**rows):
    return {"/lots/": listed(rows, "results")}


@pytest.fixture
def token(db):
    return token_of()[0]


def test_an_answer_that_was_lost_again_and_again_is_still_built_on_what_the_phone_has(token):
    first = give(token=token, documents=lots(a=1), since=None, at=NOW)
    for kg in range(2, 8):
        answer = give(token=token, documents=lots(a=kg), since=first.cursor, at=NOW + timedelta(hours=kg))
        assert answer.since == first.cursor
        assert [one["rows"] for one in answer.documents] == [[{"id": "a", "kg": kg}]]


def test_a_row_that_changed_and_changed_back_while_answers_were_lost_is_as_it_was(token):
    first = give(token=token, documents=lots(a=1), since=None, at=NOW)
    give(token=token, documents=lots(a=2), since=first.cursor, at=NOW)
    back = give(token=token, documents=lots(a=1), since=first.cursor, at=NOW)
    assert (back.cursor, back.documents) == (first.cursor, [])


def test_a_cursor_of_somebody_else_is_answered_whole(token):
    other = give(token=token_of()[0], documents=lots(a=1), since=None, at=NOW)
    answer = give(token=token, documents=lots(a=1), since=other.cursor, at=NOW)
    assert answer.since is None
    assert [one["value"] for one in answer.documents] == list(lots(a=1).values())


def test_nothing_is_written_where_nothing_changed(token):
    first = give(token=token, documents=lots(a=1), since=None, at=NOW)
    before = token.kept.get().given_at
    give(token=token, documents=lots(a=1), since=first.cursor, at=NOW + timedelta(hours=1))
    assert token.kept.get().given_at == before


def test_what_was_given_goes_with_the_session(token):
    give(token=token, documents=lots(a=1), since=None, at=NOW)
    put_out(token.user.member)
    assert not Kept.objects.exists()
