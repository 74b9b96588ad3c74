from django.contrib import admin

from coop.admin.tables import SOURCE, OwnedTable, Table
from coop.models import Cooperative, Member


@admin.register(Cooperative)
class CooperativeTable(Table):
    list_display = ("name", "currency", "language", "time_zone", "is_demo")
    prepopulated_fields = {"slug": ["name"]}
    fieldsets = (
        (None, {"fields": ["name", "slug", "language", "time_zone", "is_demo"]}),
        ("Money", {"fields": ["currency", "currency_decimals", "coin_minor"]}),
        ("How money is shared", {"fields": ["sharing_rule", "claims_rule"]}),
        SOURCE,
    )


@admin.register(Member)
class MemberTable(OwnedTable):
    list_display = ("name", "role", "phone", "joined_on", "left_on", "cooperative")
    list_filter = ("cooperative", "role")
    list_select_related = ("cooperative",)
    search_fields = ("name", "phone")
