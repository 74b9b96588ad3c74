from datetime import UTC, datetime, timedelta

import pytest
from axes.models import AccessAttempt
from django.contrib.auth import get_user_model
from django.test import RequestFactory

from coop.errors import Conflict, Invalid, NotAllowed, TooMany
from coop.selectors.phones import token_of
from coop.services.sign_in import set_password, sign_in, sign_out
from tests.factories.members import FellowFactory, MemberFactory, OwnerFactory
from tests.factories.phones import PhoneFactory, account_of, token_for

pytestmark = pytest.mark.django_db

NOW = datetime(2126, 3, 2, 6, tzinfo=UTC)
PASSWORD = "eleven hard fish"


@pytest.fixture
def manager():
    row = MemberFactory(role="manager", name="Esther")
    set_password(by=row, name="esther", password=PASSWORD)
    return row


def entered(name="esther", password=PASSWORD, place="192.0.2.1", **terms):
    caller = RequestFactory().post("/", REMOTE_ADDR=place)
    asked = {"phone_name": "Office", "phone": None, "at": NOW} | terms
    return sign_in(caller=caller, name=name, password=password, **asked)


def test_a_manager_enters_with_her_password_for_thirty_days(manager):
    session = entered()
    assert session.member == manager
    assert session.expires_at == NOW + timedelta(days=30)
    assert token_of(session.token).phone.name == "Office"


def test_a_password_is_stored_by_argon2_alone(manager):
    stored = manager.account.password
    assert stored.startswith("argon2$argon2id$")
    assert PASSWORD not in stored


@pytest.mark.parametrize("name", ["esther ", "ｅsther"])
def test_a_name_is_known_however_its_letters_are_written(manager, name):
    assert entered(name.strip()).member == manager


@pytest.mark.parametrize(
    ("name", "password"),
    [("esther", "eleven hard fish "), ("esther", ""), ("Esther", PASSWORD), ("nobody", PASSWORD), ("", "")],
)
def test_a_wrong_name_and_a_wrong_password_are_refused_in_the_same_words(manager, name, password):
    with pytest.raises(Invalid) as wrong:
        entered(name, password)
    with pytest.raises(Invalid) as other:
        entered("somebody", "else")
    assert (wrong.value.message, wrong.value.problems) == (other.value.message, other.value.problems)
    assert password == "" or password not in str(wrong.value.problems)


@pytest.mark.parametrize("change", [{"role": "packer"}, {"role": "member"}, {"left_on": NOW.date()}])
def test_who_is_no_manager_any_more_does_not_enter(manager, change):
    type(manager).objects.filter(pk=manager.pk).update(**change)
    with pytest.raises(Invalid):
        entered()


def test_whoever_keeps_the_server_enters_the_tables_and_not_here():
    get_user_model().objects.create_superuser("keeper", password=PASSWORD)
    with pytest.raises(Invalid):
        entered("keeper")


def test_after_five_wrong_passwords_not_even_the_right_one_is_looked_at(manager):
    for _ in range(4):
        with pytest.raises(Invalid):
            entered(password="wrong")
    with pytest.raises(TooMany):
        entered(password="wrong")
    with pytest.raises(TooMany):
        entered()


def test_a_name_that_does_not_exist_waits_just_the_same():
    for _ in range(4):
        with pytest.raises(Invalid):
            entered("nobody", "wrong")
    with pytest.raises(TooMany):
        entered("nobody", "wrong")


def test_the_wait_ends_after_a_quarter_of_an_hour_and_trying_does_not_lengthen_it(manager):
    now = datetime.now(UTC)
    for _ in range(8):
        with pytest.raises((Invalid, TooMany)) as last:
            entered(password="wrong", at=now)
    assert last.value.seconds == 900
    ago = now - timedelta(minutes=14)
    AccessAttempt.objects.update(attempt_time=ago)
    with pytest.raises(TooMany) as still:
        entered(at=now)
    assert still.value.seconds == 60
    AccessAttempt.objects.update(attempt_time=now - timedelta(minutes=16))
    assert entered().member == manager


def test_wrong_passwords_from_elsewhere_do_not_keep_the_owner_of_the_name_out(manager):
    for _ in range(6):
        with pytest.raises((Invalid, TooMany)):
            entered(password="wrong", place="198.51.100.7")
    assert entered().member == manager


def test_a_right_password_forgets_the_wrong_ones(manager):
    for _ in range(3):
        for _ in range(4):
            with pytest.raises(Invalid):
                entered(password="wrong")
        assert entered()


def test_who_signs_out_is_out_on_this_phone_alone():
    owner = OwnerFactory()
    phone = PhoneFactory(cooperative=owner.cooperative)
    here, elsewhere, fellows = token_for(owner, phone), token_for(owner), token_for(FellowFactory(), phone)
    sign_out(by=owner, phone=phone)
    assert token_of(here) is None
    assert token_of(elsewhere)
    assert token_of(fellows)


@pytest.mark.parametrize(
    "password", ["short1!", "password", "password123", "12345678", "esther-1", "iloveyou"]
)
def test_a_password_that_is_short_common_or_like_the_name_is_refused(manager, password):
    with pytest.raises(Invalid) as refusal:
        set_password(by=manager, name="esther", password=password)
    [problem] = refusal.value.problems
    assert (problem.field, problem.value) == ("password", "not shown")
    assert entered().member == manager


@pytest.mark.parametrize("name", ["two words", "a" * 151, "semi;colon", ""])
def test_a_name_that_nobody_can_sign_in_with_is_refused(manager, name):
    with pytest.raises(Invalid):
        set_password(by=manager, name=name, password=PASSWORD)


def test_a_name_is_taken_once_whatever_its_case(manager):
    other = MemberFactory(role="manager")
    with pytest.raises(Conflict, match="taken"):
        set_password(by=other, name="ESTHER", password=PASSWORD)
    set_password(by=manager, name="esther", password="twelve hard fish")
    assert entered(password="twelve hard fish").member == manager


@pytest.mark.parametrize("role", ["member", "packer"])
def test_only_managers_have_a_password(role):
    with pytest.raises(NotAllowed):
        set_password(by=MemberFactory(role=role), name="anna", password=PASSWORD)


def test_a_new_password_puts_out_whoever_entered_with_the_old_one(manager):
    here = PhoneFactory(cooperative=manager.cooperative)
    kept = token_for(manager, here, expiry=timedelta(days=100 * 366))
    elsewhere = entered().token
    set_password(by=manager, name="esther", password="twelve hard fish", phone=here)
    assert token_of(kept)
    assert token_of(elsewhere) is None
    with pytest.raises(Invalid):
        entered()


def test_two_managers_hold_one_phone(manager):
    other = MemberFactory(role="manager", cooperative=manager.cooperative)
    set_password(by=other, name="joseph", password=PASSWORD)
    first = entered()
    second = entered("joseph", phone=first.phone.uuid)
    assert second.phone == first.phone
    assert token_of(first.token)
    assert account_of(other).auth_token_set.count() == 1
