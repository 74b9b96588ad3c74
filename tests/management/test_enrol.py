import re

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.utils import timezone

from coop.services.enrolments import enrol_phone
from tests.factories.members import MemberFactory, OwnerFactory

pytestmark = pytest.mark.django_db


def test_it_tells_a_code_that_enrols_the_first_manager(capsys):
    manager = MemberFactory(name="Anna Mwale", role="manager", cooperative=OwnerFactory().cooperative)
    call_command("enrol", "shore", "Anna Mwale")
    said = capsys.readouterr().out
    [code] = re.findall(r"^([A-Z2-9]{5}-[A-Z2-9]{5})$", said, re.MULTILINE)
    assert "Anna Mwale (manager)" in said
    session = enrol_phone(code=code, phone_name="Hers", phone=None, at=timezone.now())
    assert session.member == manager


@pytest.mark.parametrize(
    ("slug", "name", "words"),
    [("far", "Owner", "no cooperative far"), ("shore", "Anna", "0 members"), ("shore", "Twin", "2 members")],
)
def test_a_name_that_names_nobody_or_two_gets_one_sentence(slug, name, words):
    shore = OwnerFactory().cooperative
    for phone in ("097 1", "097 2"):
        MemberFactory(name="Twin", phone=phone, cooperative=shore)
    with pytest.raises(CommandError, match=words):
        call_command("enrol", slug, name)


def test_who_has_left_is_nobody():
    gone = OwnerFactory(left_on="2026-03-02")
    with pytest.raises(CommandError, match="0 members"):
        call_command("enrol", gone.cooperative.slug, gone.name)
