from datetime import UTC, datetime, timedelta

import pytest
from django.test import override_settings

from coop.errors import Conflict, NotAllowed, NotFound
from coop.models import EnrolmentCode
from coop.selectors.enrolment_codes import open_codes_of
from coop.services.enrolment_codes import ALPHABET, BITS, digest_of, issue_code
from tests.factories.members import FellowFactory, MemberFactory, OwnerFactory, StrangerFactory
from tests.factories.phones import EnrolmentCodeFactory

pytestmark = pytest.mark.django_db

NOW = datetime(2026, 3, 2, 6, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def owner():
    return OwnerFactory()


@pytest.fixture
def manager(owner):
    return MemberFactory(cooperative=owner.cooperative, role="manager")


def issued(manager, member, at=NOW):
    return issue_code(by=manager, member=member, valid_for=DAY, at=at)


def test_a_code_is_read_aloud_without_a_doubt_and_is_not_guessed():
    assert len(ALPHABET) == len(set(ALPHABET)) == 30
    assert not set("0O1ILU") & set(ALPHABET)
    assert BITS > 48


def test_a_code_is_told_once_and_only_its_digest_is_stored(manager, owner):
    code, words = issued(manager, owner)
    assert len(words) == 11
    assert words[5] == "-"
    assert set(words) <= {*ALPHABET, "-"}
    assert (code.member, code.issued_by, code.expires_at, code.used_at) == (owner, manager, NOW + DAY, None)
    stored = EnrolmentCode.objects.filter(pk=code.pk).values_list()
    assert not [value for row in stored for value in row if words.replace("-", "") in str(value)]


def test_no_two_codes_are_alike(manager):
    words = {issued(manager, MemberFactory(cooperative=manager.cooperative))[1] for _ in range(20)}
    assert len(words) == 20


@pytest.mark.parametrize("typed", ["7kq2mxw94c", "7KQ2M XW94C", " 7kq2m-xw94c ", "7KQ2M–XW94C"])
def test_a_code_may_be_typed_in_any_case_with_any_dash_or_none(typed):
    assert digest_of(typed) == digest_of("7KQ2M-XW94C")


def test_a_digest_tells_nothing_without_the_secret_of_this_server():
    here = digest_of("7KQ2M-XW94C")
    with override_settings(SECRET_KEY="another"):
        assert digest_of("7KQ2M-XW94C") != here


def test_a_new_code_voids_those_of_the_same_member_that_are_open(manager, owner):
    fellow = FellowFactory()
    kept, _ = issued(manager, fellow)
    issued(manager, owner)
    last, _ = issued(manager, owner)
    assert set(open_codes_of(owner.cooperative, NOW)) == {kept, last}


def test_codes_that_nobody_used_in_time_are_swept_out(manager, owner):
    EnrolmentCodeFactory(cooperative=owner.cooperative, issued_at=NOW - DAY, expires_at=NOW)
    code, _ = issued(manager, owner)
    assert list(EnrolmentCode.objects.of(owner.cooperative)) == [code]


@pytest.mark.parametrize("role", ["member", "packer"])
def test_only_a_manager_makes_codes(owner, role):
    with pytest.raises(NotAllowed):
        issued(MemberFactory(cooperative=owner.cooperative, role=role), owner)


def test_a_manager_makes_none_for_strangers(manager):
    with pytest.raises(NotFound):
        issued(manager, StrangerFactory())


def test_nobody_enrols_who_has_left(manager, owner):
    owner.left_on = NOW.date()
    owner.save()
    with pytest.raises(Conflict, match="has left"):
        issued(manager, owner)


def test_whoever_keeps_the_server_makes_the_first_code_of_a_cooperative(owner):
    code, _ = issued(None, owner)
    assert code.issued_by is None
