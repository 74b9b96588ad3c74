from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError

from coop.models import PhoneToken
from tests.factories.members import MemberFactory, OwnerFactory, StrangerFactory
from tests.factories.phones import MORNING, EnrolmentCodeFactory, PhoneFactory, account_of, token_for
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_code_counts_for_some_time():
    with refused("enrolment_code_counts_for_a_while"):
        change(EnrolmentCodeFactory(), expires_at=MORNING)


def test_a_code_that_was_used_names_its_phone_and_another_does_not():
    code = EnrolmentCodeFactory()
    phone = PhoneFactory(cooperative=code.cooperative)
    with refused("enrolment_code_was_used_on_a_phone"):
        change(code, used_at=MORNING)
    with refused("enrolment_code_was_used_on_a_phone"):
        change(code, phone=phone)
    change(code, used_at=MORNING - timedelta(days=1), phone=phone)


def test_no_two_codes_have_one_digest():
    code = EnrolmentCodeFactory()
    with refused("coop_enrolmentcode.digest|enrolmentcode_digest"):
        twin(code, id=None)


@pytest.mark.parametrize("name", ["member", "issued_by", "phone"])
def test_a_code_is_of_one_cooperative(name):
    code = EnrolmentCodeFactory()
    strange = PhoneFactory() if name == "phone" else MemberFactory()
    with refused(f"enrolmentcode_{name}_of_its_cooperative"):
        change(code, **{name: strange}, **({"used_at": MORNING} if name == "phone" else {}))
    setattr(code, name, strange)
    with pytest.raises(ValidationError, match="belongs to another cooperative"):
        code.full_clean()


def test_a_token_is_of_the_cooperative_of_its_phone():
    owner, stranger = OwnerFactory(), StrangerFactory()
    for member in (owner, stranger):
        account_of(member)
    with refused("phonetoken_user_of_its_cooperative"):
        token_for(owner, PhoneFactory(cooperative=stranger.cooperative))
    token_for(owner)
    with refused("phonetoken_user_of_its_cooperative"):
        change(PhoneToken.objects.get(), phone=PhoneFactory(cooperative=stranger.cooperative))
    with refused("phonetoken_user_of_its_cooperative"):
        change(PhoneToken.objects.get(), user=account_of(stranger))


def test_the_form_of_a_token_says_so_before():
    token = PhoneToken(user=account_of(OwnerFactory()), phone=PhoneFactory(), digest="0", token_key="0")
    with pytest.raises(ValidationError, match="another cooperative"):
        token.full_clean()


def test_nobody_has_a_token_who_is_no_member(django_user_model):
    keeper = django_user_model.objects.create(username="keeper")
    with refused("phonetoken_user_of_its_cooperative"):
        PhoneToken.objects.create(keeper, phone=PhoneFactory())


def test_a_holder_has_one_token_on_a_phone():
    owner = OwnerFactory()
    phone = PhoneFactory(cooperative=owner.cooperative)
    token_for(owner, phone)
    with refused("coop_phonetoken.phone_id|phone_token_once_a_holder"):
        token_for(owner, phone)


def test_what_a_log_may_show_of_a_token_or_a_code_is_not_what_it_says():
    words = token_for(OwnerFactory())
    token = PhoneToken.objects.get()
    for shown in (str(token), str(EnrolmentCodeFactory())):
        assert words[:6] not in shown
        assert token.digest not in shown
