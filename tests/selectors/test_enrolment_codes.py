from datetime import timedelta

import pytest

from coop.selectors.enrolment_codes import open_codes_of
from tests.factories.members import OwnerFactory
from tests.factories.phones import MORNING, EnrolmentCodeFactory, PhoneFactory

pytestmark = pytest.mark.django_db


def test_a_cooperative_sees_its_own_codes_that_still_count():
    cooperative = OwnerFactory().cooperative
    code = EnrolmentCodeFactory(cooperative=cooperative)
    phone = PhoneFactory(cooperative=cooperative)
    EnrolmentCodeFactory(cooperative=cooperative, used_at=MORNING, phone=phone)
    EnrolmentCodeFactory(cooperative=cooperative, expires_at=MORNING + timedelta(hours=1))
    EnrolmentCodeFactory()
    assert list(open_codes_of(cooperative, MORNING + timedelta(hours=1))) == [code]
