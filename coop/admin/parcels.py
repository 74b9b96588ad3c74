from django.contrib import admin

from coop.admin.shares import BillLineRows, ShareRows, StabilityRows
from coop.admin.tables import KeptRows, KeptTable
from coop.models import Parcel, ParcelCarton, Part


class ParcelCartonRows(KeptRows):
    model = ParcelCarton
    show_change_link = True


@admin.register(Parcel)
class ParcelTable(KeptTable):
    list_display = ("departs_at", "state", "route", "buyer", "timetable", "design", "cooperative")
    list_filter = ("cooperative", "state", "route", "buyer")
    list_select_related = (
        "route",
        "buyer",
        "timetable__carrier",
        "timetable__route",
        "design",
        "cooperative",
    )
    search_fields = ("uuid", "driver", "plate")
    date_hierarchy = "departs_at"
    inlines = (ParcelCartonRows, BillLineRows, ShareRows, StabilityRows)


class PartRows(KeptRows):
    model = Part


@admin.register(ParcelCarton)
class ParcelCartonTable(KeptTable):
    list_display = ("parcel", "position", "capacity_kg", "closed_at", "gross_mass_kg", "chance_hard")
    list_filter = ("parcel__cooperative", "parcel__state")
    list_select_related = ("parcel__buyer",)
    inlines = (PartRows,)
