from django.contrib import admin

from coop.admin.tables import KeptRows, KeptTable
from coop.models import EnrolmentCode, Phone, PhoneToken


class TokenRows(KeptRows):
    model = PhoneToken
    fields = ("holder", "created", "expiry")
    readonly_fields = fields

    @admin.display(description="held by")
    def holder(self, token):
        return token.user.member


@admin.register(Phone)
class PhoneTable(KeptTable):
    list_display = ("name", "enrolled_at", "revoked_at", "cooperative")
    list_filter = ("cooperative",)
    list_select_related = ("cooperative",)
    search_fields = ("name",)
    inlines = (TokenRows,)


@admin.register(EnrolmentCode)
class EnrolmentCodeTable(KeptTable):
    list_display = ("member", "issued_by", "issued_at", "expires_at", "used_at", "phone", "cooperative")
    list_filter = ("cooperative",)
    list_select_related = ("member", "issued_by", "phone", "cooperative")
