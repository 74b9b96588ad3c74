from django.contrib import admin

from coop.admin.tables import KeptTable
from coop.models import Entry


@admin.register(Entry)
class EntryTable(KeptTable):
    list_display = ("noted_on", "member", "kind", "amount_minor", "parcel", "written_by", "note")
    list_filter = ("cooperative", "kind")
    list_select_related = ("member", "parcel__buyer", "written_by")
    search_fields = ("uuid", "member__name", "note")
    date_hierarchy = "noted_on"
