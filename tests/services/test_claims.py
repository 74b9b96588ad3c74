"""Claims: a member for herself, a packer for all; what was got back is divided once and never exceeds it."""

from uuid import uuid4

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import Claim, Entry
from coop.selectors.claims import claims_about
from coop.selectors.statements import balance_of
from coop.services.claims import raise_claim, reject_claim, share_claim
from tests.factories.members import MemberFactory, StrangerFactory
from tests.factories.parcels import closed, departed
from tests.selectors.shared_carton import shared_carton

pytestmark = pytest.mark.django_db


@pytest.fixture
def scene():
    """Three owners of 20, 35 and 45 kg on the way, and who packs."""
    found = shared_carton(20.0, 35.0, 45.0)
    found.packer = MemberFactory(cooperative=found.shore.cooperative, name="Packer", role="packer")
    departed(closed(found.parcel))
    return found


def raised(scene, *claimed, by=None, **terms):
    parts = list(zip(scene.members, claimed, strict=False))
    wanted = {"parcel": scene.parcel, "kind": "softened", "parts": parts}
    return raise_claim(by=by or scene.packer, **(wanted | terms))


@pytest.mark.parametrize(
    ("estate", "awards"),
    [(10_000, (3300, 3300, 3400)), (20_000, (5000, 7500, 7500)), (30_000, (5000, 10_000, 15_000))],
)
def test_what_was_got_back_is_divided_as_the_contested_garment(scene, estate, awards):
    """Aumann & Maschler 1985: 100, 200, 300 share 100, 200, 300 as 33⅓ each; 50, 75, 75; 50, 100, 150.

    Here times 100, to the coin of 1: a third of 10 000 is 3 333 or 3 334, to the coin of 100 3 300 or 3 400.
    """
    coin = 100 if estate == 10_000 else 1
    type(scene.shore.cooperative).objects.filter(pk=scene.shore.cooperative.pk).update(coin_minor=coin)
    claim = share_claim(by=scene.packer, claim=raised(scene, 10_000, 20_000, 30_000), estate_minor=estate)
    found = [part.awarded_minor for part in claim.parts.order_by("member__name")]
    assert sorted(found) == sorted(awards)
    assert sum(found) == estate
    assert [balance_of(member) for member in scene.members] == [-award for award in found]
    assert (claim.rule, claim.estate_minor) == ("contested", estate)


@pytest.mark.parametrize("rule", ["proportional", "equal_awards", "equal_losses", "contested"])
def test_nobody_gets_more_than_was_claimed_whatever_the_coin(scene, rule):
    cooperative = scene.shore.cooperative
    type(cooperative).objects.filter(pk=cooperative.pk).update(claims_rule=rule, coin_minor=5000)
    for estate in (0, 1, 4999, 12_345, 17_776, 17_777):
        claim = share_claim(by=scene.packer, claim=raised(scene, 7777, 4000, 6000), estate_minor=estate)
        parts = list(claim.parts.all())
        assert sum(part.awarded_minor for part in parts) == estate
        assert all(part.awarded_minor <= part.claimed_minor for part in parts)


def test_nothing_got_back_is_shared_without_a_line(scene):
    share_claim(by=scene.packer, claim=raised(scene, 10_000, 20_000), estate_minor=0)
    assert not Entry.objects.of(scene.shore.cooperative).exists()


def test_a_claim_is_decided_once(scene):
    claim = raised(scene, 10_000)
    share_claim(by=scene.packer, claim=claim, estate_minor=5000)
    with pytest.raises(Conflict, match="was shared"):
        share_claim(by=scene.packer, claim=claim, estate_minor=5000)
    with pytest.raises(Conflict, match="was shared"):
        reject_claim(by=scene.packer, claim=claim, note="late")
    other = reject_claim(by=scene.packer, claim=raised(scene, 10_000), note="the fish was hard")
    with pytest.raises(Conflict, match="was rejected"):
        share_claim(by=scene.packer, claim=other, estate_minor=1)
    assert other.rejected_note == "the fish was hard"
    assert Entry.objects.of(scene.shore.cooperative).count() == 1


def test_the_same_claim_sent_twice_is_one(scene):
    name = uuid4()
    first = raised(scene, 10_000, uuid=name)
    assert raised(scene, 10_000, uuid=name) == first
    assert Claim.objects.of(scene.shore.cooperative).count() == 1
    with pytest.raises(Conflict):
        raised(scene, 10_000, uuid=name, kind="lost")


def test_a_member_claims_for_herself_alone_and_decides_nothing(scene):
    owner, fellow, _ = scene.members
    terms = {"by": owner, "parcel": scene.parcel, "kind": "lost"}
    claim = raise_claim(**terms, parts=[(owner, 5000)])
    with pytest.raises(NotAllowed):
        raise_claim(**terms, parts=[(owner, 5000), (fellow, 1)])
    with pytest.raises(NotAllowed):
        share_claim(by=owner, claim=claim, estate_minor=5000)
    with pytest.raises(NotAllowed):
        reject_claim(by=owner, claim=claim, note="mine")
    assert list(claims_about(owner)) == [claim]
    assert not claims_about(fellow).exists()


def test_a_stranger_finds_no_parcel_and_no_claim(scene):
    stranger = StrangerFactory(role="manager")
    claim = raised(scene, 10_000)
    with pytest.raises(NotFound):
        raise_claim(by=stranger, parcel=scene.parcel, kind="lost", parts=[(stranger, 1)])
    with pytest.raises(NotFound):
        raise_claim(by=scene.packer, parcel=scene.parcel, kind="lost", parts=[(stranger, 1)])
    for decide in (
        lambda: share_claim(by=stranger, claim=claim, estate_minor=1),
        lambda: reject_claim(by=stranger, claim=claim, note="no"),
    ):
        with pytest.raises(NotFound):
            decide()


@pytest.mark.parametrize(
    ("parts", "named"),
    [
        (lambda scene: [], "parts"),
        (lambda scene: [(scene.members[0], 1), (scene.members[0], 2)], "parts"),
        (lambda scene: [(scene.packer, 1)], "parts"),
        (lambda scene: [(scene.members[0], 0)], "parts"),
        (lambda scene: [(scene.members[0], 1.5)], "parts"),
        (lambda scene: [(scene.members[0], True)], "parts"),
        (lambda scene: [(scene.members[0], 10**12 + 1)], "parts"),
    ],
)
def test_a_claim_of_nobody_of_nothing_or_too_much_is_refused(scene, parts, named):
    with pytest.raises(Invalid) as refused:
        raise_claim(by=scene.packer, parcel=scene.parcel, kind="lost", parts=parts(scene))
    assert refused.value.problems[0].field == named
    assert not Claim.objects.of(scene.shore.cooperative).exists()


def test_an_unknown_kind_and_an_estate_above_the_claims_are_refused(scene):
    with pytest.raises(Invalid, match="kind"):
        raised(scene, 1, kind="theft")
    claim = raised(scene, 10_000, 5000)
    for estate in (-1, 15_001, 1.0, None):
        with pytest.raises(Invalid, match="estate_minor"):
            share_claim(by=scene.packer, claim=claim, estate_minor=estate)
    with pytest.raises(Invalid, match="note"):
        reject_claim(by=scene.packer, claim=claim, note=" ")


def test_nothing_is_claimed_of_a_parcel_that_has_not_left():
    scene = shared_carton(20.0)
    packer = MemberFactory(cooperative=scene.shore.cooperative, role="packer")
    for step in (lambda parcel: parcel, closed):
        step(scene.parcel)
        with pytest.raises(Conflict, match="Nothing can be claimed yet"):
            raise_claim(by=packer, parcel=scene.parcel, kind="lost", parts=[(scene.members[0], 1)])
