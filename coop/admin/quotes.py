from django.contrib import admin

from coop.admin.tables import KeptRows, KeptTable
from coop.models import Quote, QuoteQuestion, Supply


class QuestionRows(KeptRows):
    model = QuoteQuestion


@admin.register(Supply)
class SupplyTable(KeptTable):
    list_display = ("member", "species", "mass_kg", "ready_at", "entered_at")
    list_filter = ("cooperative", "species")
    list_select_related = ("member", "species")
    search_fields = ("uuid", "member__name")


@admin.register(Quote)
class QuoteTable(KeptTable):
    list_display = ("issued_at", "buyer", "route", "departs_at", "valid_until", "state", "accepted_kg")
    list_filter = ("cooperative", "state", "buyer", "route")
    list_select_related = ("buyer", "route")
    search_fields = ("uuid", "buyer__name")
    date_hierarchy = "issued_at"
    inlines = (QuestionRows,)
