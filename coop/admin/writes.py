from django.contrib import admin

from coop.admin.tables import KeptTable
from coop.models import Write


@admin.register(Write)
class WriteTable(KeptTable):
    list_display = ("made_at", "member", "key", "status", "cooperative")
    list_filter = ("cooperative",)
    list_select_related = ("member", "cooperative")
    date_hierarchy = "made_at"
