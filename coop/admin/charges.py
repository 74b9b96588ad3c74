from django.contrib import admin

from coop.admin.tables import SOURCE, OwnedTable
from coop.models import Charge


@admin.register(Charge)
class ChargeTable(OwnedTable):
    list_display = (
        "name",
        "kind",
        "basis",
        "amount_minor",
        "route",
        "buyer",
        "valid_from",
        "valid_until",
        "confirmed_on",
    )
    list_filter = ("cooperative", "kind", "basis", "route", "buyer", "confirmed_on")
    list_select_related = ("route", "buyer")
    search_fields = ("name",)
    fieldsets = (
        (None, {"fields": ["cooperative", "kind", "name"]}),
        ("Where it is paid", {"fields": ["route", "buyer"]}),
        ("How much", {"fields": ["amount_minor", "basis"]}),
        ("When it counts", {"fields": ["valid_from", "valid_until", "confirmed_on"]}),
        SOURCE,
    )
