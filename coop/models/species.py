from django.core.validators import RegexValidator
from django.db import models
from django.db.models import F
from django.db.models.lookups import GreaterThanOrEqual, LessThanOrEqual

from coop.models.columns import Text, YesNo
from coop.models.figures import Figured, sourced
from coop.models.keys import Keyed
from coop.models.measures import SHARE, Range, number, ranges, rule

FREEZING_POINT = Range(-5, -0.1)


def shares_sum_to_one(table):
    """Within 0.02: published analyses are rounded and leave out a trace of carbohydrate."""
    total = F("water_share") + F("protein_share") + F("fat_share") + F("ash_share")
    return rule(
        f"{table}_shares_sum_to_one",
        models.Q(GreaterThanOrEqual(total, 0.98)) & models.Q(LessThanOrEqual(total, 1.02)),
        "Water, protein, fat and ash add up to 1, give or take 0.02.",
    )


class Species(Figured, Keyed):
    key_fields = ("code",)

    code = Text(
        "code",
        max_length=3,
        unique=True,
        validators=[RegexValidator(r"^[A-Z]{3}$")],
        help_text="three letters of FAO ASFIS: IRQ",
    )
    scientific_name = Text("scientific name", max_length=120)
    name_en = Text("English name", max_length=80)
    name_fr = Text("French name", max_length=80, blank=True)
    name_mg = Text("Malagasy name", max_length=80, blank=True)
    name_sw = Text("Swahili name", max_length=80, blank=True)
    family = Text("family", max_length=60)
    water_share = number("water", SHARE, "share of the mass of the flesh")
    protein_share = number("protein", SHARE, "share of the mass of the flesh")
    fat_share = number("fat", SHARE, "share of the mass of the flesh")
    ash_share = number("ash", SHARE, "share of the mass of the flesh")
    freezing_point_c = number("begins to freeze at (°C)", FREEZING_POINT, default=-1.0)
    histamine_prone = YesNo(
        "can carry histamine", default=False, help_text="its family can, when it was once warm"
    )

    class Meta:
        ordering = ("name_en", "id")
        verbose_name_plural = "species"
        constraints = [
            *ranges(
                "species",
                water_share=SHARE,
                protein_share=SHARE,
                fat_share=SHARE,
                ash_share=SHARE,
                freezing_point_c=FREEZING_POINT,
            ),
            shares_sum_to_one("species"),
            *sourced("species"),
        ]

    def __str__(self):
        return f"{self.name_en} ({self.code})"
