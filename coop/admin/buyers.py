from django.contrib import admin

from coop.admin.spans import SpanFormSet
from coop.admin.tables import SOURCE, OwnedTable
from coop.models import Buyer, ReceivingHours


class ReceivingHoursRows(admin.TabularInline):
    model = ReceivingHours
    formset = SpanFormSet
    extra = 0


@admin.register(Buyer)
class BuyerTable(OwnedTable):
    list_display = ("name", "place", "limit_kind", "limit_value", "cooperative")
    list_filter = ("cooperative", "place", "limit_kind")
    list_select_related = ("place", "cooperative")
    search_fields = ("name", "slug")
    prepopulated_fields = {"slug": ["name"]}
    inlines = (ReceivingHoursRows,)
    fieldsets = (
        (None, {"fields": ["cooperative", "name", "slug", "place"]}),
        ("What is accepted", {"fields": ["limit_kind", "limit_value"]}),
        (
            "The last stretch",
            {"fields": ["last_stretch_hours_mean", "last_stretch_hours_cv", "waits_in"]},
        ),
        SOURCE,
    )
