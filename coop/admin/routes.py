from django.contrib import admin
from django.core.exceptions import ValidationError
from django.forms import BaseInlineFormSet

from coop.admin.tables import OwnedTable
from coop.models import Leg, Route
from coop.models.routes import broken_chain


class LegFormSet(BaseInlineFormSet):
    def clean(self):
        super().clean()
        if any(self.errors):
            return
        legs = [form.instance for form in self.forms if form.has_changed() or form.instance.pk]
        gone = [form.instance for form in self.deleted_forms]
        wrong = broken_chain(self.instance, [leg for leg in legs if leg not in gone])
        if wrong:
            raise ValidationError(f"The legs do not join: {wrong}.", code="chain")


class LegRows(admin.TabularInline):
    model = Leg
    formset = LegFormSet
    extra = 0
    fields = (
        "position",
        "start",
        "end",
        "distance_km",
        "hours_mean",
        "hours_floor",
        "hours_cv",
        "stop_hours_mean",
        "stop_hours_cv",
        "figures",
        "source",
    )


@admin.register(Route)
class RouteTable(OwnedTable):
    list_display = ("name", "origin", "destination", "leg_correlation", "cooperative")
    list_filter = ("cooperative", "origin", "destination")
    list_select_related = ("origin", "destination", "cooperative")
    search_fields = ("name", "slug")
    prepopulated_fields = {"slug": ["name"]}
    inlines = (LegRows,)
