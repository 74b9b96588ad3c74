from django.contrib import admin

from coop.admin.tables import SOURCE, OwnedTable, Table
from coop.models import Cooperative, Member


@admin.register(Cooperative)
class CooperativeTable(Table):
    list_display = ("name", "currency", "language", "time_zone", "confidence", "is_demo")
    prepopulated_fields = {"slug": ["name"]}
    fieldsets = (
        (None, {"fields": ["name", "slug", "language", "time_zone", "is_demo"]}),
        ("Money", {"fields": ["currency", "currency_decimals", "coin_minor"]}),
        ("How money is shared", {"fields": ["sharing_rule", "claims_rule"]}),
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


@admin.register(Member)
class MemberTable(OwnedTable):
    list_display = ("name", "role", "phone", "joined_on", "left_on", "cooperative")
    list_filter = ("cooperative", "role")
    list_select_related = ("cooperative",)
    search_fields = ("name", "phone")
