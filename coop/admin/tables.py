"""What every table of the admin does: a refusal of the database becomes a sentence, never a broken page."""

from django.contrib import admin, messages
from django.db import IntegrityError
from django.http import HttpResponseRedirect
from django.utils import timezone

admin.site.site_header = "Carton Hour, tables"
admin.site.site_title = "Carton Hour"
admin.site.index_title = "What the cooperative keeps"


class Table(admin.ModelAdmin):
    list_per_page = 50

    def changeform_view(self, request, *arguments, **named):
        # The forms compare with what is stored; somebody else may store the same span a moment later.
        try:
            return super().changeform_view(request, *arguments, **named)
        except IntegrityError as refusal:
            words = (
                f"Not saved: the database refused it ({refusal}). Look at what is stored now, and try again."
            )
            self.message_user(request, words, messages.ERROR)
            return HttpResponseRedirect(request.get_full_path())

    def save_model(self, request, obj, form, change):
        super().save_model(request, by_whom(obj, request), form, change)

    def save_formset(self, request, form, formset, change):
        for one in formset.forms:
            by_whom(one.instance, request)
        super().save_formset(request, form, formset, change)

    def delete_model(self, request, obj):
        super().delete_model(request, by_whom(obj, request))


def by_whom(row, request):
    """The row, so that its history names the member who changes it here, if she is one.

    What is saved together is of one instant, so that a whole finds its parts.
    """
    request.changed_at = getattr(request, "changed_at", None) or timezone.now()
    row._history_user, row._history_date = getattr(request.user, "member", None), request.changed_at
    return row


class OwnedTable(Table):
    """A row stays with its cooperative: the choice is there for a new one only."""

    def get_readonly_fields(self, request, obj=None):
        kept = super().get_readonly_fields(request, obj)
        return (*kept, "cooperative") if obj else kept


class KeptTable(Table):
    """What people do by the services is shown here and not changed: it has to agree with other tables."""

    def has_add_permission(self, request, *_row):
        return False

    def has_change_permission(self, request, *_row):
        return False

    def has_delete_permission(self, request, *_row):
        return False


class KeptRows(admin.TabularInline):
    """Rows of a kept table."""

    extra = 0
    has_add_permission = KeptTable.has_add_permission
    has_change_permission = KeptTable.has_change_permission
    has_delete_permission = KeptTable.has_delete_permission


SOURCE = ("Where the figures come from", {"fields": ["figures", "source"]})
