"""A balance is the sum of the lines of an account, for one member and for all at once."""

import pytest

from coop.selectors.statements import balance_of, balances_of, statement_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.entries import EntryFactory
from tests.factories.members import FellowFactory, OwnerFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def paid(member, amount_minor):
    kind = "payment" if amount_minor < 0 else "payout"
    return EntryFactory(cooperative=member.cooperative, member=member, kind=kind, amount_minor=amount_minor)


def test_balances_of_all_are_the_sums_of_their_lines():
    owner, fellow = OwnerFactory(), FellowFactory()
    silent = FellowFactory(name="Silent")
    EntryFactory()
    for amount in (-1000, -250, -7):
        paid(owner, amount)
    paid(fellow, 12)
    found = {member: member.balance_minor for member in balances_of(owner.cooperative)}
    assert found == {owner: -1257, fellow: 12, silent: 0}
    assert [balance_of(member) for member in (owner, fellow, silent)] == [-1257, 12, 0]


def test_what_is_owed_and_what_she_is_owed_are_told_apart():
    owner, fellow = OwnerFactory(), FellowFactory()
    paid(owner, -500)
    paid(fellow, 700)
    owing, owed = statement_of(fellow), statement_of(owner)
    assert (owing.owes_minor, owing.is_owed_minor) == (700, 0)
    assert (owed.owes_minor, owed.is_owed_minor) == (0, 500)


def test_a_statement_takes_as_many_questions_for_one_line_as_for_thirty():
    owner = OwnerFactory(cooperative=CooperativeFactory(slug="shore"))

    def read():
        found = statement_of(owner)
        lines = [(line.written_by.name, bool(line.corrections.all()), line.parcel) for line in found.entries]
        return lines, list(balances_of(owner.cooperative))

    same_for_many(lambda: paid(owner, -10), read, most=4)
