from django.contrib import admin

from coop.admin.tables import SOURCE, OwnedTable
from coop.models import FishPrice


@admin.register(FishPrice)
class FishPriceTable(OwnedTable):
    list_display = (
        "species",
        "bought_minor_per_kg",
        "sold_minor_per_kg",
        "soft_minor_per_kg",
        "valid_from",
        "valid_until",
        "confirmed_on",
    )
    list_filter = ("cooperative", "species", "confirmed_on")
    list_select_related = ("species",)
    fieldsets = (
        (None, {"fields": ["cooperative", "species"]}),
        ("A kilogram", {"fields": ["bought_minor_per_kg", "sold_minor_per_kg", "soft_minor_per_kg"]}),
        ("When it counts", {"fields": ["valid_from", "valid_until", "confirmed_on"]}),
        SOURCE,
    )
    date_hierarchy = "valid_from"
