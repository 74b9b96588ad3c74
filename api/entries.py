"""Lines of the members' accounts, and taking a wrong one back."""

from zoneinfo import ZoneInfo

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.departures_item import InstantOut
from api.enrolment_codes import MemberName
from api.given import Given, status_of
from api.lots import PARCEL_ID, name_of
from api.question_fields import Note
from api.roles import PACKERS
from api.rounding import written
from api.stored import one_of
from coop.selectors.payments import entries_of
from coop.services.payments import correct_entry

ENTRY_ID = "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c14"
KINDS = ("share", "payment", "payout", "proceeds", "claim", "correction")


class EntryOut(serializers.Serializer):
    id = serializers.UUIDField()
    member = MemberName()
    kind = serializers.CharField(help_text=", ".join(KINDS))
    amount_minor = serializers.IntegerField(help_text="positive: the member owes it")
    noted_on = serializers.DateField()
    parcel = serializers.UUIDField(allow_null=True)
    claim = serializers.UUIDField(allow_null=True)
    corrects = serializers.UUIDField(allow_null=True, help_text="the line that this one takes back")
    corrected = serializers.BooleanField(help_text="a later line takes this one back")
    note = serializers.CharField()
    written_by = MemberName()
    written_at = InstantOut()

    example = {
        "id": ENTRY_ID,
        "member": MemberName.example,
        "kind": "share",
        "amount_minor": 27025,
        "noted_on": "2026-03-02",
        "parcel": PARCEL_ID,
        "claim": None,
        "corrects": None,
        "corrected": False,
        "note": "",
        "written_by": {"id": 1, "name": "Esther"},
        "written_at": "2026-03-02T15:30:00+02:00",
    }

    def to_representation(self, entry):
        return entry_item(entry, ZoneInfo(self.context["person"].cooperative.time_zone))


class CorrectionOfEntryIn(Given):
    note = Note(wanted="why the line was wrong")

    example = {**Given.example, "note": "typed twice"}


class EntryCorrection(APIView):
    """Takes a line back by one of the opposite amount that names it; both stay."""

    may = {"POST": PACKERS}
    body = {"POST": CorrectionOfEntryIn}
    output = EntryOut
    status = {"POST": 201}

    def post(self, request, uuid):
        person, now = person_of(request), timezone.now()
        entry = one_of(entries_of(person.cooperative), uuid=uuid)
        asked = read_body(CorrectionOfEntryIn, request)
        return entry_answered(correct_entry(by=person.member, entry=entry, **asked, at=now), person, now)


def entry_answered(entry, person, now):
    """What was written, or was there under its id."""
    shown = EntryOut(entry, context={"person": person}).data
    return Response(shown, status=status_of(entry.written_at, now))


def entry_item(entry, zone):
    """EntryOut of an entry of entries_of."""
    return {
        "id": str(entry.uuid),
        "member": name_of(entry.member),
        "kind": entry.kind,
        "amount_minor": entry.amount_minor,
        "noted_on": entry.noted_on.isoformat(),
        "parcel": id_of(entry.parcel),
        "claim": id_of(entry.claim),
        "corrects": id_of(entry.corrects),
        "corrected": bool(entry.corrections.all()),
        "note": entry.note,
        "written_by": name_of(entry.written_by),
        "written_at": written(entry.written_at, zone),
    }


def id_of(row):
    return None if row is None else str(row.uuid)
