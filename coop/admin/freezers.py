from django.contrib import admin

from coop.admin.tables import SOURCE, OwnedTable
from coop.models import Freezer


@admin.register(Freezer)
class FreezerTable(OwnedTable):
    list_display = ("name", "air_temperature_c", "freezing_kg_per_day", "holds_kg", "cooperative")
    list_filter = ("cooperative",)
    list_select_related = ("cooperative",)
    search_fields = ("name", "slug")
    prepopulated_fields = {"slug": ["name"]}
    fieldsets = (
        (None, {"fields": ["cooperative", "name", "slug"]}),
        ("How fast it freezes", {"fields": ["air_temperature_c", "film_w_m2_k", "freezing_kg_per_day"]}),
        ("What it takes", {"fields": ["coefficient_of_performance", "standing_w"]}),
        ("How much it holds", {"fields": ["holds_kg"]}),
        SOURCE,
    )
