from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import connection

from tests.factories.claims import ClaimFactory, ClaimPartFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.shares import ClosedParcelFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def shared(claim, estate_minor):
    at = claim.raised_at + timedelta(days=1)
    change(claim, estate_minor=estate_minor, rule="contested", shared_at=at)


def test_a_claim_is_shared_by_a_rule_or_not_yet():
    claim = ClaimPartFactory(awarded_minor=0).claim
    at = claim.raised_at
    for facts in (
        {"estate_minor": 5},
        {"rule": "contested"},
        {"shared_at": at, "estate_minor": 5},
        {"shared_at": at, "estate_minor": 5, "rule": "?"},
        {"shared_at": at, "estate_minor": 5, "rule": "contested", "rejected_at": at},
    ):
        with refused("claim_shared_by_a_rule_or_not_yet"):
            change(claim, **facts)
    with refused("claim_begins_undecided"):
        twin(claim, uuid=uuid4(), shared_at=at, estate_minor=5, rule="contested")


def test_a_claim_is_shared_when_each_has_an_award_and_all_awards_are_there():
    part = ClaimPartFactory(claimed_minor=30)
    with refused("claim_shared_with_its_awards"):
        shared(part.claim, 30)
    change(part, awarded_minor=20)
    with refused("claim_shared_with_its_awards"):
        shared(part.claim, 19)
    shared(part.claim, 20)


def test_nobody_gets_more_than_was_claimed():
    part = ClaimPartFactory(claimed_minor=30)
    with refused("claim_part_gets_at_most_what_it_claims"):
        change(part, awarded_minor=31)
    change(part, awarded_minor=30)


@pytest.mark.parametrize("how", ["shared", "rejected"])
def test_a_decided_claim_stays_as_it_is(how):
    part = ClaimPartFactory(claimed_minor=30, awarded_minor=20)
    claim = part.claim
    fellow = MemberFactory(cooperative=claim.cooperative)
    if how == "shared":
        shared(claim, 20)
    else:
        change(claim, rejected_at=claim.raised_at)
    with refused("claim_decided_stays"):
        change(claim, note="more")
    with refused("claim_part_of_a_decided_claim_stays"):
        change(part, awarded_minor=19)
    with refused("claim_part_of_a_decided_claim_stays"):
        ClaimPartFactory(claim=claim, member=fellow)
    for table, words in (("coop_claimpart", "claim_part_of"), ("coop_claim", "claim_decided_stays")):
        with refused(words), connection.cursor() as cursor:
            cursor.execute(f"DELETE FROM {table}")


def test_a_claim_stays_with_its_parcel_and_a_member_claims_once():
    part = ClaimPartFactory()
    other = ClosedParcelFactory(cooperative=part.claim.cooperative)
    with refused("claim_stays_with_its_parcel"):
        change(part.claim, parcel=other)
    with refused("coop_claimpart.claim_id|claim_part_once_a_member"):
        twin(part)


def test_a_stranger_claims_nothing():
    with refused("claim_part_member_of_its_cooperative"):
        ClaimPartFactory(claim=ClaimFactory(), member=MemberFactory(cooperative=CooperativeFactory()))
