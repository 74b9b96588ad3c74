from django.contrib import admin

from coop.admin.spans import SpanFormSet
from coop.admin.tables import SOURCE, OwnedTable
from coop.models import Buyer, BuyerLimit, ReceivingHours


class ReceivingHoursRows(admin.TabularInline):
    model = ReceivingHours
    formset = SpanFormSet
    extra = 0


class BuyerLimitRows(admin.TabularInline):
    model = BuyerLimit
    formset = SpanFormSet
    extra = 0
    fields = ("valid_from", "valid_until", "limit_kind", "limit_value", "figures", "source")


@admin.register(Buyer)
class BuyerTable(OwnedTable):
    list_display = ("name", "place", "cooperative")
    list_filter = ("cooperative", "place")
    list_select_related = ("place", "cooperative")
    search_fields = ("name", "slug")
    prepopulated_fields = {"slug": ["name"]}
    inlines = (BuyerLimitRows, ReceivingHoursRows)
    fieldsets = (
        (None, {"fields": ["cooperative", "name", "slug", "place"]}),
        (
            "The last stretch",
            {"fields": ["last_stretch_hours_mean", "last_stretch_hours_cv", "waits_in"]},
        ),
        SOURCE,
    )
