from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError

from tests.factories.members import MemberFactory, StrangerFactory
from tests.factories.writes import WriteFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_key_stands_for_one_write_of_a_member_and_for_another_one_of_somebody_else():
    write = WriteFactory()
    with refused("member_id"):
        twin(write)
    fellow = MemberFactory(cooperative=write.cooperative)
    assert twin(write, member=fellow).key == write.key


def test_a_write_is_by_a_member_of_its_cooperative():
    write, stranger = WriteFactory(), StrangerFactory()
    with refused("write_member_of_its_cooperative"):
        change(write, member=stranger)
    with refused("write_member_of_its_cooperative"):
        twin(write, key=uuid4(), member=stranger)
    write.member = stranger
    with pytest.raises(ValidationError, match="another cooperative"):
        write.clean()


def test_its_name_tells_the_key_and_whose_it_is():
    write = WriteFactory(member__name="Anna")
    assert str(write) == f"{write.key} of Anna"
