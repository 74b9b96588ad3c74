from django.db import models

from coop.models.columns import Slug, Text
from coop.models.figures import Figured, sourced
from coop.models.keys import Keyed
from coop.models.measures import Range, number, ranges
from coop.models.ownership import Owned

AIR = Range(-60, -5)
FILM = Range(2, 500)
KG_A_DAY = Range(0.1, 100_000)
# Heat carried away over electricity taken: a chest freezer about 1, a plant 1.5 to 3.
PERFORMANCE = Range(0.2, 10)
STANDING_W = Range(0, 100_000)
HOLDS_KG = Range(0.1, 1_000_000)


class Freezer(Owned, Figured, Keyed):
    """Where fish is frozen and waits for its departure."""

    key_fields = ("cooperative__slug", "slug")

    slug = Slug("short name")
    name = Text("name", max_length=120)
    air_temperature_c = number("temperature of the air (°C)", AIR, "while fish freezes in it")
    film_w_m2_k = number(
        "film at the fish (W/(m² K))", FILM, "still air 5 to 10, moving air 15 to 50, pressed on plates 100"
    )
    freezing_kg_per_day = number(
        "fish that it freezes in a day (kg)", KG_A_DAY, "from fresh to frozen through"
    )
    coefficient_of_performance = number(
        "coefficient of performance", PERFORMANCE, "heat carried away over electricity taken"
    )
    standing_w = number("power when nothing is put in (W)", STANDING_W, "to keep cold what is in it")
    holds_kg = number("fish that it holds (kg)", HOLDS_KG)

    class Meta:
        ordering = ("name", "id")
        constraints = [
            models.UniqueConstraint(
                fields=["cooperative", "slug"], name="freezer_slug_once_in_a_cooperative"
            ),
            *ranges(
                "freezer",
                air_temperature_c=AIR,
                film_w_m2_k=FILM,
                freezing_kg_per_day=KG_A_DAY,
                coefficient_of_performance=PERFORMANCE,
                standing_w=STANDING_W,
                holds_kg=HOLDS_KG,
            ),
            *sourced("freezer"),
        ]

    def __str__(self):
        return self.name
