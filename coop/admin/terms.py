from django.contrib import admin

from coop.admin.tables import SOURCE, OwnedTable
from coop.models import Terms


@admin.register(Terms)
class TermsTable(OwnedTable):
    list_display = ("cooperative", "valid_from", "valid_until", "confidence", "confirmed_on")
    list_filter = ("cooperative", "confirmed_on")
    list_select_related = ("cooperative",)
    fieldsets = (
        (None, {"fields": ["cooperative"]}),
        ("When they count", {"fields": ["valid_from", "valid_until", "confirmed_on", "stale_after_days"]}),
        ("What counts as safe", {"fields": ["confidence", "softened_share_limit"]}),
        (
            "Packing and freezing",
            {
                "fields": [
                    "closing_lead_minutes",
                    "packing_minutes_per_carton",
                    "labour_price_minor_per_hour",
                    "electricity_price_minor_per_kwh",
                    "freezing_kwh_per_kg",
                ]
            },
        ),
        SOURCE,
    )
