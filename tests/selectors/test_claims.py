import pytest

from coop.selectors.claims import claims_about, claims_of
from tests.factories.claims import ClaimFactory, ClaimPartFactory
from tests.factories.members import FellowFactory, OwnerFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def test_a_member_s_claims_are_those_she_raised_and_those_she_has_a_part_in():
    owner, fellow = OwnerFactory(), FellowFactory()
    own = ClaimFactory(cooperative=owner.cooperative, raised_by=owner)
    shared = ClaimFactory(cooperative=owner.cooperative, raised_by=fellow)
    ClaimPartFactory(claim=shared, member=owner)
    ClaimPartFactory(claim=shared, member=fellow)
    ClaimFactory()
    assert set(claims_about(owner)) == {own, shared}
    assert set(claims_about(fellow)) == {shared}
    assert set(claims_of(owner.cooperative)) == {own, shared}


def test_claims_are_read_in_as_many_questions_for_one_as_for_thirty():
    owner = OwnerFactory()

    def make():
        ClaimPartFactory(claim=ClaimFactory(cooperative=owner.cooperative, raised_by=owner))

    def read():
        return [
            (claim.raised_by.name, [part.member.name for part in claim.parts.all()], str(claim.parcel.uuid))
            for claim in claims_of(owner.cooperative)
        ]

    same_for_many(make, read, most=2)
