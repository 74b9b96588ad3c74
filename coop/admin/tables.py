"""What every table of the admin does: a refusal of the database becomes a sentence, never a broken page."""

from django.contrib import admin, messages
from django.db import IntegrityError
from django.http import HttpResponseRedirect

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
