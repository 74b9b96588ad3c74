"""Losses on parcels: what each claims, and what she gets of what was got back."""

from zoneinfo import ZoneInfo

from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.departures_item import InstantOut
from api.enrolment_codes import MemberName
from api.filtering import Id, OneOf
from api.given import WHAT, Given, known, status_of
from api.lots import PARCEL_ID, name_of
from api.question_fields import LARGEST, Note, chosen
from api.roles import MEMBERS, PACKERS
from api.rounding import written
from api.stored import Row, Rows, one_of
from coop.selectors.claims import claims_about, claims_of
from coop.selectors.members import members_of
from coop.selectors.parcels import parcels_of
from coop.services.claims import raise_claim, reject_claim, share_claim

CLAIM_ID = "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c15"
KINDS = ("softened", "lost", "short_payment", "other")
STATES = {
    "raised": {"shared_at__isnull": True, "rejected_at__isnull": True},
    "shared": {"shared_at__isnull": False},
    "rejected": {"rejected_at__isnull": False},
}
MONEY = 10**12


class ClaimPartOut(serializers.Serializer):
    member = MemberName()
    claimed_minor = serializers.IntegerField()
    awarded_minor = serializers.IntegerField(allow_null=True, help_text="null until it is shared")

    example = {"member": MemberName.example, "claimed_minor": 30000, "awarded_minor": None}


class ClaimOut(serializers.Serializer):
    id = serializers.UUIDField()
    parcel = serializers.UUIDField()
    kind = serializers.CharField(help_text=", ".join(KINDS))
    state = serializers.CharField(help_text=", ".join(STATES))
    raised_by = MemberName()
    raised_at = InstantOut()
    note = serializers.CharField()
    estate_minor = serializers.IntegerField(allow_null=True, help_text="what was got back")
    rule = serializers.CharField(help_text="by which it was shared; before that empty")
    shared_at = InstantOut(allow_null=True)
    rejected_at = InstantOut(allow_null=True)
    rejected_note = serializers.CharField()
    parts = ClaimPartOut(many=True, help_text="a member's own; all for whoever packs")

    example = {
        "id": CLAIM_ID,
        "parcel": PARCEL_ID,
        "kind": "softened",
        "state": "raised",
        "raised_by": MemberName.example,
        "raised_at": "2026-03-04T09:00:00+02:00",
        "note": "four kilograms at the top",
        "estate_minor": None,
        "rule": "",
        "shared_at": None,
        "rejected_at": None,
        "rejected_note": "",
        "parts": [ClaimPartOut.example],
    }

    def to_representation(self, claim):
        return claim_item(claim, self.context["person"])


class ClaimPartIn(serializers.Serializer):
    member = serializers.IntegerField(min_value=1, max_value=LARGEST, help_text="id of the member")
    claimed_minor = serializers.IntegerField(
        min_value=1, max_value=MONEY, help_text=f"whole minor units from 1 to {MONEY}"
    )

    example = {"member": 3, "claimed_minor": 30000}


class ClaimIn(Given):
    parcel = serializers.UUIDField(help_text=WHAT)
    kind = serializers.ChoiceField(choices=KINDS)
    parts = ClaimPartIn(many=True, allow_empty=False, max_length=200)
    note = Note()

    example = {
        **Given.example,
        "parcel": PARCEL_ID,
        "kind": "softened",
        "parts": [ClaimPartIn.example],
        "note": "four kilograms at the top",
    }


class EstateIn(serializers.Serializer):
    estate_minor = serializers.IntegerField(
        min_value=0, max_value=MONEY, help_text="whole minor units that were got back"
    )

    example = {"estate_minor": 20000}


class RejectionIn(serializers.Serializer):
    note = Note(wanted="why the claim is rejected")

    example = {"note": "the fish was hard when it was handed over"}


class StateOf(OneOf):
    """A claim's state is told by its times."""

    def __init__(self):
        super().__init__(*STATES)

    def filter(self, rows, state):
        return rows.filter(**STATES[state]) if state else rows


class ClaimFilters(FilterSet):
    state = StateOf()
    kind = OneOf(*KINDS)
    parcel = Id(field_name="parcel__uuid")


def claims_for(person):
    """Those that she raised or has a part in; all of the cooperative for whoever packs."""
    return claims_of(person.cooperative) if person.role in PACKERS else claims_about(person.member)


class Claims(Rows):
    """Claims, the newest first. A member claims for herself, whoever packs for all."""

    may = {"GET": MEMBERS, "POST": MEMBERS}
    select_for = staticmethod(claims_for)
    filters = ClaimFilters
    body = {"POST": ClaimIn}
    output = ClaimOut
    status = {"POST": 201}

    def post(self, request):
        asked, person, now = read_body(ClaimIn, request), person_of(request), timezone.now()
        claim = raise_claim(by=person.member, **rows_named(asked, person.cooperative), at=now)
        return Response(claim_shown(claim, person), status=status_of(claim.raised_at, now))


class Claim(Row):
    """One claim."""

    may = {"GET": MEMBERS}
    select_for = staticmethod(claims_for)
    output = ClaimOut


class Decision(APIView):
    """What is done with a claim; it is decided once."""

    output = ClaimOut

    def post(self, request, uuid):
        person = person_of(request)
        claim = one_of(claims_of(person.cooperative), uuid=uuid)
        asked = read_body(self.body["POST"], request)
        self.decide(by=person.member, claim=claim, **asked, at=timezone.now())
        return Response(claim_shown(claim, person))


class Sharing(Decision):
    """Divides what was got back by the cooperative's rule; nobody gets more than she claims."""

    may = {"POST": PACKERS}
    body = {"POST": EstateIn}
    decide = staticmethod(share_claim)


class Rejection(Decision):
    """Puts a claim aside for good."""

    may = {"POST": PACKERS}
    body = {"POST": RejectionIn}
    decide = staticmethod(reject_claim)


def rows_named(asked, cooperative):
    """What a service takes: rows in place of the words that name them."""
    members = list(members_of(cooperative))
    pairs = [
        (chosen(members, f"parts.{place}.member", part["member"], key="pk"), part["claimed_minor"])
        for place, part in enumerate(asked["parts"])
    ]
    parcel = known(parcels_of(cooperative), "parcel", asked["parcel"], "the id of a parcel that has left")
    return {**asked, "parcel": parcel, "parts": pairs}


def claim_shown(claim, person):
    """ClaimOut of a claim as it now is."""
    found = one_of(claims_of(person.cooperative), pk=claim.pk)
    return ClaimOut(found, context={"person": person}).data


def claim_item(claim, person):
    zone = ZoneInfo(person.cooperative.time_zone)
    return {
        "id": str(claim.uuid),
        "parcel": str(claim.parcel.uuid),
        "kind": claim.kind,
        "state": state_of(claim),
        "raised_by": name_of(claim.raised_by),
        "raised_at": written(claim.raised_at, zone),
        "note": claim.note,
        "estate_minor": claim.estate_minor,
        "rule": claim.rule,
        "shared_at": written(claim.shared_at, zone),
        "rejected_at": written(claim.rejected_at, zone),
        "rejected_note": claim.rejected_note,
        "parts": [part_item(part) for part in claim.parts.all() if is_shown(part, person)],
    }


def state_of(claim):
    return "shared" if claim.shared_at else "rejected" if claim.rejected_at else "raised"


def is_shown(part, person):
    return person.role in PACKERS or part.member_id == person.member.pk


def part_item(part):
    return {
        "member": name_of(part.member),
        "claimed_minor": part.claimed_minor,
        "awarded_minor": part.awarded_minor,
    }
