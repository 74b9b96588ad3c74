from django.contrib import admin

from coop.admin.tables import KeptRows, KeptTable
from coop.models import Claim, ClaimPart


class ClaimPartRows(KeptRows):
    model = ClaimPart


@admin.register(Claim)
class ClaimTable(KeptTable):
    list_display = ("raised_at", "kind", "parcel", "raised_by", "estate_minor", "shared_at", "rejected_at")
    list_filter = ("cooperative", "kind")
    list_select_related = ("parcel__buyer", "raised_by")
    search_fields = ("uuid", "note")
    inlines = (ClaimPartRows,)
