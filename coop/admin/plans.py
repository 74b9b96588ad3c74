from django.contrib import admin

from coop.admin.tables import KeptTable
from coop.models import Plan


@admin.register(Plan)
class PlanTable(KeptTable):
    list_display = ("asked_at", "route", "buyer", "first_day", "last_day", "cost_minor", "gap", "accepted_at")
    list_filter = ("cooperative", "route", "buyer")
    list_select_related = ("route", "buyer")
    search_fields = ("uuid",)
