from django.contrib import admin

from coop.admin.tables import KeptTable
from coop.models import CalendarLink


@admin.register(CalendarLink)
class CalendarLinkTable(KeptTable):
    list_display = ("member", "created_at", "revoked_at", "cooperative")
    list_filter = ("cooperative",)
    list_select_related = ("member", "cooperative")
