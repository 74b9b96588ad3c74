"""Money that a member paid in, or was paid out."""

from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers

from api.body import read_body
from api.cooperative import person_of
from api.entries import EntryOut, entry_answered
from api.filtering import OneOf, Whole
from api.given import Given
from api.question_fields import LARGEST, Day, Note, chosen
from api.roles import PACKERS
from api.stored import Rows
from coop.selectors.members import members_of
from coop.selectors.payments import payments_of
from coop.services.payments import record_payment

MONEY = 10**12


class PaymentIn(Given):
    member = serializers.IntegerField(min_value=1, max_value=LARGEST, help_text="id of the member")
    amount_minor = serializers.IntegerField(
        min_value=1, max_value=MONEY, help_text=f"whole minor units from 1 to {MONEY}"
    )
    direction = serializers.ChoiceField(choices=("in", "out"), help_text="in: she paid it; out: she got it")
    paid_on = Day(help_text="a date such as 2026-03-02, today or before")
    note = Note()

    example = {
        **Given.example,
        "member": 3,
        "amount_minor": 27025,
        "direction": "in",
        "paid_on": "2026-03-02",
        "note": "cash",
    }


class PaymentOut(EntryOut):
    example = {**EntryOut.example, "kind": "payment", "amount_minor": -27025, "parcel": None, "note": "cash"}


class PaymentFilters(FilterSet):
    member = Whole(field_name="member__id")
    kind = OneOf("payment", "payout")


class Payments(Rows):
    """What members paid in and were paid out, the newest first."""

    may = {"GET": PACKERS, "POST": PACKERS}
    select = staticmethod(payments_of)
    filters = PaymentFilters
    body = {"POST": PaymentIn}
    output = PaymentOut
    status = {"POST": 201}

    def post(self, request):
        asked, person, now = read_body(PaymentIn, request), person_of(request), timezone.now()
        member = chosen(members_of(person.cooperative), "member", asked.pop("member"), key="pk")
        return entry_answered(record_payment(by=person.member, member=member, **asked, at=now), person, now)
