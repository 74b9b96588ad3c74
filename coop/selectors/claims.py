from django.db.models import Prefetch

from coop.models import Claim, ClaimPart


def claims_of(cooperative):
    """Claims, the newest first, with who claims what."""
    parts = ClaimPart.objects.of(cooperative).select_related("member").order_by("member__name", "member")
    claims = Claim.objects.of(cooperative).select_related("parcel", "raised_by")
    return claims.prefetch_related(Prefetch("parts", parts))


def claims_about(member):
    """Those of a cooperative's claims that a member raised, or has a part in."""
    claims = claims_of(member.cooperative_id)
    return (claims.filter(raised_by=member) | claims.filter(parts__member=member)).distinct()
