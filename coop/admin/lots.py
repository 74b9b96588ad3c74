from django.contrib import admin

from coop.admin.tables import KeptTable
from coop.models import Lot


@admin.register(Lot)
class LotTable(KeptTable):
    list_display = ("member", "species", "mass_kg", "ready_at", "route", "buyer", "withdrawn_at")
    list_filter = ("cooperative", "route", "buyer", "species")
    list_select_related = ("member", "species", "route", "buyer")
    search_fields = ("uuid", "member__name")
    date_hierarchy = "offered_at"
