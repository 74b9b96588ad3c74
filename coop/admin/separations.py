from django.contrib import admin

from coop.admin.tables import OwnedTable
from coop.models import Separation


@admin.register(Separation)
class SeparationTable(OwnedTable):
    list_display = ("one", "other", "cooperative")
    list_filter = ("cooperative",)
    list_select_related = ("one", "other", "cooperative")
