from rest_framework import serializers

from api.buyers import BuyerName
from api.departures_item import InstantOut, VehicleOut
from api.enrolment_codes import MemberName, QrOut
from api.lots import LOT_ID, PARCEL_ID, PARCEL_STATES, FishName
from api.routes import RouteName


class BuyerPlaceOut(BuyerName):
    place = serializers.CharField()

    example = {**BuyerName.example, "place": "Lusaka"}


class WaybillCartonOut(serializers.Serializer):
    position = serializers.IntegerField()
    gross_mass_kg = serializers.FloatField(allow_null=True, help_text="as weighed")
    mass_kg = serializers.FloatField(help_text="of fish")
    species = FishName(many=True)

    example = {"position": 1, "gross_mass_kg": 131.2, "mass_kg": 80.0, "species": [FishName.example]}


class WaybillOut(serializers.Serializer):
    parcel = serializers.UUIDField()
    state = serializers.CharField(help_text=", ".join(PARCEL_STATES))
    cooperative = serializers.CharField()
    route = RouteName()
    carrier = VehicleOut()
    departs_at = InstantOut()
    latest_safe_departure_at = InstantOut(
        allow_null=True, help_text="of the carton that stays hard for the shortest time"
    )
    driver = serializers.CharField()
    plate = serializers.CharField()
    buyer = BuyerPlaceOut()
    cartons = WaybillCartonOut(many=True)
    cartons_count = serializers.IntegerField()
    gross_mass_kg = serializers.FloatField(allow_null=True, help_text="null: not all of them were weighed")
    mass_kg = serializers.FloatField()

    example = {
        "parcel": PARCEL_ID,
        "state": "closed",
        "cooperative": "South Lake Fish Traders",
        "route": RouteName.example,
        "carrier": VehicleOut.example,
        "departs_at": "2026-03-02T16:00:00+02:00",
        "latest_safe_departure_at": "2026-03-02T18:30:00+02:00",
        "driver": "",
        "plate": "",
        "buyer": BuyerPlaceOut.example,
        "cartons": [WaybillCartonOut.example],
        "cartons_count": 1,
        "gross_mass_kg": 131.2,
        "mass_kg": 80.0,
    }


class ListedOut(serializers.Serializer):
    label = serializers.IntegerField(help_text="number of the label on it")
    lot = serializers.UUIDField()
    member = MemberName()
    species = FishName()
    mass_kg = serializers.FloatField()
    frozen_since = InstantOut()

    example = {
        "label": 1,
        "lot": LOT_ID,
        "member": MemberName.example,
        "species": FishName.example,
        "mass_kg": 80.0,
        "frozen_since": "2026-02-28T06:00:00+02:00",
    }


class PackingListOut(serializers.Serializer):
    position = serializers.IntegerField()
    parts = ListedOut(many=True)

    example = {"position": 1, "parts": [ListedOut.example]}


class LabelOut(serializers.Serializer):
    number = serializers.IntegerField()
    lot = serializers.UUIDField()
    position = serializers.IntegerField(help_text="number of its carton")
    member = MemberName()
    species = FishName()
    mass_kg = serializers.FloatField()
    frozen_since = InstantOut()
    departs_at = InstantOut()
    buyer = BuyerName()
    qr = QrOut(help_text="the address of its lot on this server's screens")

    example = {
        "number": 1,
        "lot": LOT_ID,
        "position": 1,
        "member": MemberName.example,
        "species": FishName.example,
        "mass_kg": 80.0,
        "frozen_since": "2026-02-28T06:00:00+02:00",
        "departs_at": "2026-03-02T16:00:00+02:00",
        "buyer": BuyerName.example,
        "qr": QrOut.example,
    }


class PapersOut(serializers.Serializer):
    waybill = WaybillOut()
    packing_list = PackingListOut(many=True)
    labels = LabelOut(many=True)
    cautions = serializers.ListField(child=serializers.CharField())

    example = {
        "waybill": WaybillOut.example,
        "packing_list": [PackingListOut.example],
        "labels": [LabelOut.example],
        "cautions": ["estimate", "local_rule", "no_refreeze", "clean_bags"],
    }
