"""A loss on a parcel: who claims what, and how what was got back of it is divided."""

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, NotAllowed, Problem, invalid
from coop.models import Claim, ClaimKind, ClaimPart, Entry, EntryKind, ParcelState, Part
from coop.models.measures import MONEY_MINOR
from coop.selectors.payments import local_today
from coop.selectors.settling import shared_by_rule
from coop.services.locking import lock
from coop.services.roles import packs, require_own, require_packer
from coop.services.writing import first_answer, identified, written

SENT = (ParcelState.DEPARTED, ParcelState.HANDED_OVER, ParcelState.SETTLED)


@transaction.atomic
def raise_claim(*, by, parcel, kind, parts, note="", uuid=None, at=None) -> Claim:
    """Parts are pairs of a member and what she claims; a member claims for herself alone."""
    require_own(by, parcel, *(member for member, _ in parts))
    if not packs(by) and any(member.pk != by.pk for member, _ in parts):
        raise NotAllowed("A member claims for herself; a packer or a manager for others, too.")
    cooperative = lock(by.cooperative)
    same = {"parcel_id": parcel.pk, "kind": kind, "raised_by_id": by.pk}
    if found := first_answer(Claim.objects.of(cooperative), uuid, **same):
        return found
    parcel.refresh_from_db()
    _require_claimable(parcel, kind, parts)
    claim = written(
        Claim(
            **identified(uuid),
            cooperative=cooperative,
            parcel=parcel,
            kind=kind,
            raised_by=by,
            raised_at=at or timezone.now(),
            note=note,
        )
    )
    for member, claimed_minor in parts:
        written(ClaimPart(claim=claim, member=member, claimed_minor=claimed_minor))
    return claim


@transaction.atomic
def share_claim(*, by, claim, estate_minor, at=None) -> Claim:
    """Divides what was got back by the cooperative's rule; the awards become lines of the accounts."""
    require_packer(by, "share a claim")
    require_own(by, claim)
    cooperative = lock(by.cooperative)
    claim.refresh_from_db()
    parts = list(claim.parts.select_related("member").order_by("member__name", "member"))
    _require_undecided(claim)
    wanted = [part.claimed_minor for part in parts]
    _require_estate(estate_minor, sum(wanted))
    rule = cooperative.claims_rule
    awards = shared_by_rule(rule, wanted, estate_minor=estate_minor, coin=cooperative.coin_minor)
    for part, award in zip(parts, awards, strict=True):
        part.awarded_minor = award
        written(part)
    claim.rule, claim.estate_minor, claim.shared_at = rule, estate_minor, at or timezone.now()
    written(claim)
    for part in parts:
        if part.awarded_minor:
            written(_award(claim, part, by))
    return claim


@transaction.atomic
def reject_claim(*, by, claim, note, at=None) -> Claim:
    """Puts a claim aside for good, and says why."""
    require_packer(by, "reject a claim")
    require_own(by, claim)
    lock(by.cooperative)
    claim.refresh_from_db()
    _require_undecided(claim)
    if not note.strip():
        raise invalid("note", note, "does not say why", "why the claim is rejected")
    claim.rejected_at, claim.rejected_note = at or timezone.now(), note
    return written(claim)


def _award(claim, part, by):
    return Entry(
        cooperative_id=claim.cooperative_id,
        member=part.member,
        kind=EntryKind.CLAIM,
        amount_minor=-part.awarded_minor,
        parcel_id=claim.parcel_id,
        claim=claim,
        noted_on=local_today(by.cooperative, claim.shared_at),
        written_by=by,
        written_at=claim.shared_at,
    )


def _require_claimable(parcel, kind, parts):
    if parcel.state not in SENT:
        words = f"is {parcel.get_state_display()}"
        wrong = Problem("parcel", str(parcel.uuid), words, "a parcel that has left")
        raise Conflict(f"Nothing can be claimed yet: the parcel {words}.", wrong)
    if kind not in ClaimKind.values:
        raise invalid("kind", kind, "is no kind of claim", ", ".join(ClaimKind.values))
    owners = set(
        Part.objects.of(parcel.cooperative_id)
        .filter(carton__parcel=parcel)
        .values_list("lot__member", flat=True)
    )
    claiming = [member.pk for member, _ in parts]
    if not parts or len(set(claiming)) < len(claiming):
        raise invalid("parts", len(parts), "names nobody, or somebody twice", "each member once")
    for member, claimed_minor in parts:
        if member.pk not in owners:
            raise invalid("parts", member.name, "has no fish in this parcel", "members whose fish travelled")
        if type(claimed_minor) is not int or not 1 <= claimed_minor <= int(MONEY_MINOR.high):
            right = f"a whole number of minor units, 1 to {int(MONEY_MINOR.high)}"
            raise invalid("parts", claimed_minor, "is no amount that can be claimed", right)


def _require_undecided(claim):
    if claim.shared_at or claim.rejected_at:
        words = "was shared" if claim.shared_at else "was rejected"
        wrong = Problem("claim", str(claim.uuid), words, "a claim that is still open")
        raise Conflict(f"This claim {words}.", wrong)


def _require_estate(estate_minor, wanted):
    if type(estate_minor) is not int or not 0 <= estate_minor <= wanted:
        right = f"a whole number of minor units, 0 to {wanted}, which is all that was claimed"
        raise invalid("estate_minor", estate_minor, "is not what can be shared", right)
