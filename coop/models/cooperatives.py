from django.core.validators import RegexValidator
from django.db import models
from django.db.models import Q

from coop.models.columns import Slug, Text, YesNo
from coop.models.figures import Figured, sourced
from coop.models.keys import Keyed
from coop.models.measures import Range, known, ranges, whole
from coop.models.places import known_time_zone

CURRENCY_DECIMALS = Range(0, 4)
COIN = Range(1, 1_000_000)


class Language(models.TextChoices):
    ENGLISH = "en", "English"
    FRENCH = "fr", "français"
    MALAGASY = "mg", "Malagasy"
    SWAHILI = "sw", "Kiswahili"


class SharingRule(models.TextChoices):
    BY_WEIGHT = "by_weight", "by weight"
    EQUAL = "equal", "in equal parts"
    SERIAL = "serial", "serially, the smallest first"
    SHAPLEY = "shapley", "by what each adds, on average (Shapley)"
    NUCLEOLUS = "nucleolus", "so that the least content is content (nucleolus)"
    CAPPED = "capped", "by weight, nobody more than alone"


class ClaimsRule(models.TextChoices):
    PROPORTIONAL = "proportional", "in proportion"
    EQUAL_AWARDS = "equal_awards", "equal awards"
    EQUAL_LOSSES = "equal_losses", "equal losses"
    CONTESTED = "contested", "half of what is contested"


class Cooperative(Figured, Keyed):
    key_fields = ("slug",)

    slug = Slug("short name", unique=True)
    name = Text("name", max_length=120)
    currency = Text(
        "currency",
        max_length=3,
        validators=[RegexValidator(r"^[A-Z]{3}$")],
        help_text="three letters of ISO 4217: ZMW",
    )
    currency_decimals = whole(
        "decimals of the currency", CURRENCY_DECIMALS, "by ISO 4217: 2 for ZMW, 0 for XOF", default=2
    )
    coin_minor = whole(
        "smallest coin", COIN, "in minor units (ngwee): what is paid is rounded to it", default=1
    )
    language = Text("language", max_length=2, choices=Language.choices, default=Language.ENGLISH)
    time_zone = Text(
        "time zone", max_length=64, validators=[known_time_zone], help_text="all hours are shown in it"
    )
    sharing_rule = Text(
        "a bill is shared",
        max_length=10,
        choices=SharingRule.choices,
        default=SharingRule.CAPPED,
        help_text="what each member pays of a parcel; counts for parcels that close from now on",
    )
    claims_rule = Text(
        "a loss is shared",
        max_length=14,
        choices=ClaimsRule.choices,
        default=ClaimsRule.CONTESTED,
        help_text="who gets how much when there is less than was claimed",
    )
    is_demo = YesNo("demonstration", default=False, help_text="invented; at most one is")

    class Meta:
        ordering = ("name", "id")
        constraints = [
            models.UniqueConstraint(
                fields=["is_demo"], condition=Q(is_demo=True), name="cooperative_one_demonstration"
            ),
            *ranges("cooperative", currency_decimals=CURRENCY_DECIMALS, coin_minor=COIN),
            *known("cooperative", language=Language, sharing_rule=SharingRule, claims_rule=ClaimsRule),
            *sourced("cooperative"),
        ]

    def __str__(self):
        return self.name
