from django import forms
from django.contrib import admin
from django.forms import BaseInlineFormSet
from django.utils.dates import MONTHS

from coop.admin.tables import SOURCE, OwnedTable, Table
from coop.models import Carrier, RuleKind, Tariff, TariffRule, TariffStep, Timetable


@admin.register(Carrier)
class CarrierTable(OwnedTable):
    list_display = ("name", "vehicle", "ride", "waits_in", "carton_places", "breakdown_chance", "cooperative")
    list_filter = ("cooperative", "vehicle", "ride")
    list_select_related = ("cooperative",)
    search_fields = ("name",)
    fieldsets = (
        (None, {"fields": ["cooperative", "name", "vehicle", "carton_places"]}),
        ("Heat on the way", {"fields": ["ride", "cabin_offset_c", "waits_in"]}),
        ("Breakdowns", {"fields": ["breakdown_chance", "breakdown_hours_mean", "breakdown_hours_cv"]}),
        SOURCE,
    )


@admin.register(Timetable)
class TimetableTable(OwnedTable):
    list_display = (
        "route",
        "carrier",
        "departs_at_local",
        "days",
        "leaves_when_full",
        "valid_from",
        "valid_until",
    )
    list_filter = ("cooperative", "route", "carrier", "leaves_when_full")
    list_select_related = ("route", "carrier")
    fieldsets = (
        (None, {"fields": ["cooperative", "carrier", "route", "departs_at_local"]}),
        (
            "Days on which it leaves",
            {"fields": [("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")]},
        ),
        ("How late", {"fields": ["delay_hours_mean", "delay_hours_cv"]}),
        ("If it leaves when full", {"fields": ["leaves_when_full", "seats_left", "riders_per_hour"]}),
        ("When it counts", {"fields": ["valid_from", "valid_until", "confirmed_on"]}),
        SOURCE,
    )

    @admin.display(description="days, 1 is Monday")
    def days(self, timetable):
        return " ".join(str(day + 1) for day in timetable.weekdays)


class TariffRuleForm(forms.ModelForm):
    months = forms.TypedMultipleChoiceField(
        coerce=int,
        choices=[(number, str(name)) for number, name in MONTHS.items()],
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="in which the share on top counts; none ticked: all year",
    )

    class Meta:
        model = TariffRule
        fields = "__all__"


class TariffRuleRows(admin.StackedInline):
    model = TariffRule
    form = TariffRuleForm
    extra = 0
    show_change_link = True
    fieldsets = (
        (None, {"fields": [("position", "kind", "amount_minor"), ("minimum_minor", "minimum_kg")]}),
        (
            "Only for some kinds",
            {
                "fields": [
                    ("seats_per_carton", "volumetric_divisor_cm3_per_kg", "steps_per_kilogram"),
                    ("surcharge_share", "months"),
                ]
            },
        ),
    )


@admin.register(Tariff)
class TariffTable(OwnedTable):
    list_display = ("carrier", "route", "valid_from", "valid_until", "confirmed_on", "cooperative")
    list_filter = ("cooperative", "carrier", "route", "confirmed_on")
    list_select_related = ("carrier", "route", "cooperative")
    inlines = (TariffRuleRows,)
    fieldsets = (
        (None, {"fields": ["cooperative", "carrier", "route"]}),
        ("When it counts", {"fields": ["valid_from", "valid_until", "confirmed_on"]}),
        SOURCE,
    )


class TariffStepFormSet(BaseInlineFormSet):
    """The rule above and its steps are saved together, so the steps go by the kind as it will be."""

    def clean(self):
        super().clean()
        kept = [form for form in self.forms if form.has_changed() or form.instance.pk]
        starts = [form.instance.from_kg for form in kept if not self._should_delete_form(form)]
        if self.instance.kind == RuleKind.BY_STEP and 0 not in starts:
            raise forms.ValidationError("The first step of a rule by steps begins at 0 kg.", code="steps")


class TariffStepRows(admin.TabularInline):
    model = TariffStep
    formset = TariffStepFormSet
    extra = 0


@admin.register(TariffRule)
class TariffRuleTable(Table):
    form = TariffRuleForm
    list_display = ("tariff", "position", "kind", "amount_minor")
    list_filter = ("tariff__cooperative", "kind", "tariff__carrier", "tariff__route")
    list_select_related = ("tariff__carrier", "tariff__route")
    inlines = (TariffStepRows,)
