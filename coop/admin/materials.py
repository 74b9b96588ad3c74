from django.contrib import admin

from coop.admin.spans import SpanFormSet
from coop.admin.tables import OwnedTable
from coop.models import Material, MaterialPrice


class MaterialPriceRows(admin.TabularInline):
    model = MaterialPrice
    formset = SpanFormSet
    extra = 0
    fields = ("valid_from", "valid_until", "amount_minor", "confirmed_on", "figures", "source")


@admin.register(Material)
class MaterialTable(OwnedTable):
    list_display = ("name", "unit", "sack_volume_m3", "cooperative")
    list_filter = ("cooperative", "unit")
    list_select_related = ("cooperative",)
    search_fields = ("name", "slug")
    prepopulated_fields = {"slug": ["name"]}
    inlines = (MaterialPriceRows,)
