from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q

from coop.models.carriers import Carrier
from coop.models.columns import Day, Link, Numbers, Text, YesNo
from coop.models.figures import Figured, sourced
from coop.models.history import HistoricLink, History
from coop.models.measures import MONEY_MINOR, Range, known, money, number, ranges, rule, whole
from coop.models.ownership import Owned, PartOfOwned
from coop.models.routes import Route
from coop.models.validity import Dated, dated

POSITION = Range(1, 99)
KILOGRAMS = Range(0, 100_000)
SEATS = Range(1, 20)
DIVISOR = Range(1000, 20_000)
SURCHARGE = Range(-0.9, 5)


class Tariff(Dated, Owned, Figured):
    """What one carrier takes on one route: its rules add up."""

    key_fields = ("carrier__cooperative__slug", "carrier__name", "route__slug", "valid_from")
    alike = ("carrier", "route")
    within_cooperative = ("carrier", "route")

    carrier = Link(Carrier, on_delete=models.PROTECT, related_name="tariffs", verbose_name="carrier")
    route = Link(Route, on_delete=models.PROTECT, related_name="tariffs", verbose_name="route")
    confirmed_on = Day("last confirmed on", help_text="when somebody last asked")

    history = History()

    class Meta:
        ordering = ("carrier", "route", "-valid_from")
        constraints = [*sourced("tariff"), *dated("tariff")]

    def __str__(self):
        return f"{self.carrier}, {self.route}, from {self.valid_from}"


class RuleKind(models.TextChoices):
    PER_CARTON = "per_carton", "for each carton"
    PER_KILOGRAM = "per_kilogram", "for each kilogram"
    BY_STEP = "by_step", "by steps of weight"
    PER_VOLUME = "per_volume", "for each cubic metre"
    PER_VOLUMETRIC_KILOGRAM = "per_volumetric_kilogram", "for each kilogram, weighed or by volume"
    PER_SEAT = "per_seat", "for each seat taken"
    RETURN_OF_EMPTY = "return_of_empty", "for each empty box brought back"
    SURCHARGE = "surcharge", "a share on top, in some months"


def months_of_the_year(months):
    if not isinstance(months, list) or not all(type(month) is int and 1 <= month <= 12 for month in months):
        raise ValidationError("months are numbers 1 to 12 in a list", code="months")


def only_with(kind, column):
    """A column that is filled when, and only when, the rule is of this kind."""
    return Q(kind=kind, **{f"{column}__isnull": False}) | (~Q(kind=kind) & Q(**{f"{column}__isnull": True}))


class TariffRule(PartOfOwned):
    owned_through = "tariff__cooperative"
    key_fields = (*(f"tariff__{path}" for path in Tariff.key_fields), "position")

    tariff = HistoricLink(Tariff, on_delete=models.CASCADE, related_name="rules", verbose_name="tariff")
    position = whole("position", POSITION, "1 is the first rule")
    kind = Text("kind", max_length=24, choices=RuleKind.choices)
    amount_minor = money(
        "amount", "in minor units (ngwee) for one of its kind; 0 for steps and for a share on top", default=0
    )
    minimum_minor = money("at least", "smallest amount of this rule in minor units; 0 for none", default=0)
    minimum_kg = number(
        "at least this weight (kg)",
        KILOGRAMS,
        "a lighter consignment pays for so much; 0 for none",
        default=0,
    )
    seats_per_carton = whole("seats a carton takes", SEATS, "only for each seat taken", null=True)
    steps_per_kilogram = YesNo(
        "steps are for a kilogram",
        default=False,
        help_text="only for steps: the amount is for each kilogram, and not for the whole consignment",
    )
    volumetric_divisor_cm3_per_kg = number(
        "cubic centimetres a kilogram", DIVISOR, "usually 6000; only for kilograms by volume", null=True
    )
    surcharge_share = number(
        "share on top",
        SURCHARGE,
        "0.1 is a tenth more, of all other rules; only for a share on top",
        null=True,
    )
    months = Numbers(
        "months",
        default=list,
        blank=True,
        validators=[months_of_the_year],
        help_text="months in which the share on top counts; none means all year",
    )

    history = History()

    class Meta:
        ordering = ("tariff", "position")
        verbose_name = "rule of a tariff"
        verbose_name_plural = "rules of tariffs"
        constraints = [
            models.UniqueConstraint(
                fields=["tariff", "position"], name="tariff_rule_position_once_in_a_tariff"
            ),
            *known("tariff_rule", kind=RuleKind),
            *ranges(
                "tariff_rule",
                position=POSITION,
                amount_minor=MONEY_MINOR,
                minimum_minor=MONEY_MINOR,
                minimum_kg=KILOGRAMS,
                seats_per_carton=SEATS,
                volumetric_divisor_cm3_per_kg=DIVISOR,
                surcharge_share=SURCHARGE,
            ),
            rule(
                "tariff_rule_seats_only_for_seats",
                only_with(RuleKind.PER_SEAT, "seats_per_carton"),
                "Seats a carton takes: needed for each seat taken, empty for any other kind.",
            ),
            rule(
                "tariff_rule_divisor_only_for_volume",
                only_with(RuleKind.PER_VOLUMETRIC_KILOGRAM, "volumetric_divisor_cm3_per_kg"),
                "Cubic centimetres a kilogram: needed for kilograms by volume, empty for any other kind.",
            ),
            rule(
                "tariff_rule_share_only_for_surcharge",
                only_with(RuleKind.SURCHARGE, "surcharge_share"),
                "Share on top: needed for a share on top, empty for any other kind.",
            ),
            rule(
                "tariff_rule_steps_per_kilogram_only_for_steps",
                Q(kind=RuleKind.BY_STEP) | Q(steps_per_kilogram=False),
                "Only steps of weight can be for a kilogram.",
            ),
            rule(
                "tariff_rule_no_amount_for_steps_and_shares",
                ~Q(kind__in=[RuleKind.BY_STEP, RuleKind.SURCHARGE]) | Q(amount_minor=0),
                "Steps carry their own amounts and a share on top has none: the amount here is 0.",
            ),
        ]

    def __str__(self):
        return f"{self.position}. {self.get_kind_display()}"


class TariffStep(PartOfOwned):
    owned_through = "rule__tariff__cooperative"
    key_fields = (*(f"rule__{path}" for path in TariffRule.key_fields), "from_kg")

    rule = HistoricLink(TariffRule, on_delete=models.CASCADE, related_name="steps", verbose_name="rule")
    from_kg = number("from (kg)", KILOGRAMS, "this step holds from here up to the next step")
    amount_minor = money("amount", "in minor units (ngwee)")

    history = History()

    class Meta:
        ordering = ("rule", "from_kg")
        verbose_name = "step of weight"
        verbose_name_plural = "steps of weight"
        constraints = [
            models.UniqueConstraint(fields=["rule", "from_kg"], name="tariff_step_once_in_a_rule"),
            *ranges("tariff_step", from_kg=KILOGRAMS, amount_minor=MONEY_MINOR),
        ]

    def __str__(self):
        return f"from {self.from_kg:g} kg"

    def clean(self):
        super().clean()
        if self.rule_id and self.rule.kind != RuleKind.BY_STEP:
            raise ValidationError("Only a rule by steps of weight has steps.", code="steps")
