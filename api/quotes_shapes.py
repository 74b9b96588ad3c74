"""A quote as it is shown to whoever sells: everything that it promised, and what became of it."""

from rest_framework import serializers

from api.buyers import BuyerName
from api.carriers import CarrierName
from api.cartons import CartonDesignName
from api.departures_item import InstantOut
from api.enrolment_codes import MemberName
from api.lots import FishName
from api.quotes_item import quote_item
from api.routes import RouteName
from coop.selectors.quotes import QUOTE_STATES

QUOTE_ID = "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c15"
SUPPLY_ID = "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c16"


class SupplyOut(serializers.Serializer):
    id = serializers.UUIDField(allow_null=True, help_text="null in a preview of new fish")
    member = MemberName()
    species = FishName()
    mass_kg = serializers.FloatField()
    left_kg = serializers.FloatField(help_text="that nobody has accepted")
    frozen_since = InstantOut()
    ready_at = InstantOut()
    start_temperature_c = serializers.FloatField()
    lot = serializers.UUIDField(allow_null=True, help_text="that it is taken from")

    example = {
        "id": SUPPLY_ID,
        "member": MemberName.example,
        "species": FishName.example,
        "mass_kg": 60.0,
        "left_kg": 60.0,
        "frozen_since": "2026-02-28T06:00:00+02:00",
        "ready_at": "2026-03-01T06:00:00+02:00",
        "start_temperature_c": -18.0,
        "lot": None,
    }


class UntilOut(serializers.Serializer):
    code = serializers.ChoiceField(choices=["asked", "ends", "closes"])
    subject = serializers.CharField(allow_null=True, help_text="what ends then, such as tariff")

    example = {"code": "closes", "subject": None}


class StepOut(serializers.Serializer):
    from_kg = serializers.FloatField()
    to_kg = serializers.FloatField()
    price_minor_per_kg = serializers.IntegerField()
    from_total_minor = serializers.IntegerField(help_text="what the least of them come to, in whole coins")
    cartons = serializers.IntegerField(help_text="that the least of them take")
    cost_minor = serializers.IntegerField(help_text="of the least of them; no buyer sees it")
    chance_hard = serializers.FloatField(help_text="at least; rounded down")

    example = {
        "from_kg": 40.0,
        "to_kg": 60.0,
        "price_minor_per_kg": 5200,
        "from_total_minor": 208_000,
        "cartons": 1,
        "cost_minor": 166_400,
        "chance_hard": 0.96,
    }


class QuoteLineOut(serializers.Serializer):
    """One line of the bill of what each price begins with: fish, delivery, and what may be lost."""

    code = serializers.CharField()
    name = serializers.CharField()
    amounts_minor = serializers.ListField(
        child=serializers.IntegerField(allow_null=True),
        help_text="one for each price of the ladder, in order",
    )

    example = {"code": "fare_per_carton", "name": "Fare, by the carton", "amounts_minor": [30_000]}


class QuestionOut(serializers.Serializer):
    asked_at = InstantOut()
    text = serializers.CharField()

    example = {"asked_at": "2026-03-01T15:00:00+02:00", "text": "Are they gutted?"}


class QuoteOut(serializers.Serializer):
    id = serializers.UUIDField(allow_null=True, help_text="null in a preview")
    state = serializers.ChoiceField(choices=QUOTE_STATES)
    supply = SupplyOut()
    buyer = BuyerName()
    route = RouteName()
    carrier = CarrierName()
    carton_design = CartonDesignName()
    departs_at = InstantOut()
    closes_at = InstantOut()
    latest_safe_departure_at = InstantOut()
    arrives_from = InstantOut(help_text="in the buyer's freezer no sooner in nine of ten")
    arrives_until = InstantOut(help_text="in the buyer's freezer by then in nine of ten")
    becomes = serializers.ChoiceField(choices=["lot", "parcel"])
    made_by = MemberName()
    issued_at = InstantOut()
    valid_until = InstantOut()
    valid_until_because = UntilOut()
    language = serializers.CharField()
    profit_kind = serializers.ChoiceField(choices=["mark_up", "margin"])
    profit_share = serializers.FloatField(help_text="of the cost for a mark-up, of the price for a margin")
    limit = serializers.CharField(help_text="that was promised, such as softened_share:0.05")
    confidence = serializers.FloatField()
    chance_hard = serializers.FloatField(help_text="at least, for whichever weight; rounded down")
    softened_share = serializers.FloatField(help_text="expected at most; rounded up")
    least_kg = serializers.FloatField()
    most_kg = serializers.FloatField()
    step_kg = serializers.FloatField(help_text="from one weight to the next that a buyer may choose")
    ladder = StepOut(many=True)
    lines = QuoteLineOut(many=True, help_text="no buyer sees them")
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()
    answered_at = InstantOut(allow_null=True)
    accepted_kg = serializers.FloatField(allow_null=True)
    accepted_minor = serializers.IntegerField(allow_null=True)
    answered_by_name = serializers.CharField()
    note = serializers.CharField()
    lot = serializers.UUIDField(allow_null=True)
    parcel = serializers.UUIDField(allow_null=True)
    revoked_at = InstantOut(allow_null=True)
    questions = QuestionOut(many=True)

    example = {
        "id": QUOTE_ID,
        "state": "issued",
        "supply": SupplyOut.example,
        "buyer": BuyerName.example,
        "route": RouteName.example,
        "carrier": CarrierName.example,
        "carton_design": CartonDesignName.example,
        "departs_at": "2026-03-02T16:00:00+02:00",
        "closes_at": "2026-03-02T15:20:00+02:00",
        "latest_safe_departure_at": "2026-03-02T18:30:00+02:00",
        "arrives_from": "2026-03-03T10:00:00+02:00",
        "arrives_until": "2026-03-03T15:00:00+02:00",
        "becomes": "lot",
        "made_by": MemberName.example,
        "issued_at": "2026-03-01T14:00:00+02:00",
        "valid_until": "2026-03-02T15:20:00+02:00",
        "valid_until_because": UntilOut.example,
        "language": "en",
        "profit_kind": "mark_up",
        "profit_share": 0.25,
        "limit": "softened_share:0.05",
        "confidence": 0.95,
        "chance_hard": 0.96,
        "softened_share": 0.0135,
        "least_kg": 40.0,
        "most_kg": 60.0,
        "step_kg": 0.5,
        "ladder": [StepOut.example],
        "lines": [QuoteLineOut.example],
        "currency": "ZMW",
        "currency_decimals": 2,
        "answered_at": None,
        "accepted_kg": None,
        "accepted_minor": None,
        "answered_by_name": "",
        "note": "",
        "lot": None,
        "parcel": None,
        "revoked_at": None,
        "questions": [],
    }

    def to_representation(self, quote):
        return quote_item(quote)


class SentOut(serializers.Serializer):
    """A quote with its link, which is told this once."""

    quote = QuoteOut()
    address = serializers.CharField(
        allow_null=True, help_text="null where this id was sent before: renew the link to get one"
    )
    text = serializers.CharField(allow_null=True, help_text="to be shared: three short lines with the link")

    example = {
        "quote": QuoteOut.example,
        "address": "https://example.org/q/LOT4uY0lt9o5Yq6tNZ8nCbVd3x/",
        "text": "Sleek lates, 40 to 60 kg: from K52.00 a kg at Lusaka\n"
        "There Tue, 3 Mar, 10:00 – 15:00, hard 19 times in 20. Valid until Mon, 2 Mar, 15:20\n"
        "https://example.org/q/LOT4uY0lt9o5Yq6tNZ8nCbVd3x/",
    }


class MovedOut(serializers.Serializer):
    code = serializers.CharField()
    name = serializers.CharField()
    before_minor = serializers.IntegerField(allow_null=True)
    after_minor = serializers.IntegerField(allow_null=True)

    example = {
        "code": "fare_per_carton",
        "name": "Fare, by the carton",
        "before_minor": 30_000,
        "after_minor": 60_000,
    }


class LosingOut(serializers.Serializer):
    quote = QuoteOut()
    kg = serializers.FloatField(help_text="at which it loses most; of an accepted one what was accepted")
    loses_minor = serializers.IntegerField(allow_null=True, help_text="null: its cost is not known any more")
    loses_minor_per_kg = serializers.IntegerField(allow_null=True, help_text="rounded up")
    why = MovedOut(many=True, help_text="lines of the cost that are not what they were")
    missing = serializers.CharField(help_text="what is missing to work its cost out, or empty")

    example = {
        "quote": {**QuoteOut.example, "state": "issued"},
        "kg": 40.0,
        "loses_minor": 1200,
        "loses_minor_per_kg": 30,
        "why": [MovedOut.example],
        "missing": "",
    }
