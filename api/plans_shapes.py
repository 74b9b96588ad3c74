from rest_framework import serializers

from api.buyers import BuyerName
from api.carriers import CarrierName
from api.departures_item import InstantOut
from api.enrolment_codes import MemberName
from api.lots import LOT_ID, FishName
from api.parcels_item import ParcelOut, PartOut
from api.routes import RouteName

PLAN_ID = "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c16"


class PlannedDesign(serializers.Serializer):
    slug = serializers.CharField()
    name = serializers.CharField()

    example = {"slug": "common-carton", "name": "Common carton"}


class PlannedCartonOut(serializers.Serializer):
    departure = serializers.CharField(help_text="its id among the departures")
    departs_at = InstantOut()
    closes_at = InstantOut()
    carrier = CarrierName()
    carton_design = PlannedDesign()
    mass_kg = serializers.FloatField()
    capacity_kg = serializers.FloatField()
    cost_minor = serializers.IntegerField(help_text="its part of the bill of its consignment, by weight")
    chance_hard = serializers.FloatField(help_text="rounded down")
    parts = PartOut(many=True)

    example = {
        "departure": "7-20260302-common-carton",
        "departs_at": "2026-03-02T16:00:00+02:00",
        "closes_at": "2026-03-02T15:20:00+02:00",
        "carrier": CarrierName.example,
        "carton_design": PlannedDesign.example,
        "mass_kg": 20.0,
        "capacity_kg": 100.5,
        "cost_minor": 74310,
        "chance_hard": 0.982,
        "parts": [PartOut.example],
    }


class LeftBehindOut(serializers.Serializer):
    lot = serializers.UUIDField()
    member = MemberName()
    species = FishName()
    mass_kg = serializers.FloatField(help_text="that stays")
    code = serializers.CharField()
    values = serializers.DictField(help_text="the figures behind the words")
    words = serializers.CharField()

    example = {
        "lot": LOT_ID,
        "member": {"id": 5, "name": "Bwalya"},
        "species": FishName.example,
        "mass_kg": 28.0,
        "code": "no_room",
        "values": {},
        "words": "No vehicle of these days has room for it.",
    }


class PlanOut(serializers.Serializer):
    id = serializers.UUIDField()
    asked_at = InstantOut()
    route = RouteName()
    buyer = BuyerName()
    to = serializers.DateField()
    cartons = PlannedCartonOut(many=True)
    mass_kg = serializers.FloatField()
    cost_minor = serializers.IntegerField(help_text="of all cartons, without the fish")
    cost_per_kg_minor = serializers.IntegerField(allow_null=True, help_text="rounded up")
    bound_minor = serializers.IntegerField(help_text="no plan costs less than this")
    gap = serializers.FloatField(help_text="how far it may be from the best, as a share of the cost")
    left_behind = LeftBehindOut(many=True)
    accepted_at = InstantOut(allow_null=True)
    stale = serializers.BooleanField(
        help_text="lots, places or prices have changed since: it cannot be accepted"
    )

    example = {
        "id": PLAN_ID,
        "asked_at": "2026-03-01T14:00:00+02:00",
        "route": RouteName.example,
        "buyer": BuyerName.example,
        "from": "2026-03-02",
        "to": "2026-03-04",
        "cartons": [PlannedCartonOut.example],
        "mass_kg": 20.0,
        "cost_minor": 74310,
        "cost_per_kg_minor": 3716,
        "bound_minor": 74310,
        "gap": 0.0,
        "left_behind": [LeftBehindOut.example],
        "accepted_at": None,
        "stale": False,
    }

    def get_fields(self):
        return {**super().get_fields(), "from": serializers.DateField()}


class AcceptedOut(serializers.Serializer):
    parcels = ParcelOut(many=True)

    example = {"parcels": [ParcelOut.example]}
