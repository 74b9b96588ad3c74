from django.db import models

from coop.models.columns import Text
from coop.models.figures import Figured, sourced
from coop.models.keys import Keyed
from coop.models.measures import SHARE, VARIATION, Range, known, number, ranges, whole
from coop.models.ownership import Owned

CABIN_OFFSET = Range(-40, 30)
CARTON_PLACES = Range(1, 1000)
BREAKDOWN_HOURS = Range(0, 240)


class Vehicle(models.TextChoices):
    MINIBUS = "minibus", "minibus"
    SHARED_TAXI = "shared_taxi", "shared taxi"
    LORRY = "lorry", "lorry"
    PICKUP = "pickup", "pickup"


class Ride(models.TextChoices):
    ROOF = "roof", "on the roof"
    CABIN = "cabin", "inside, with the riders"
    HOLD = "hold", "in the hold or under the sheet"


class WaitsIn(models.TextChoices):
    SHADE = "shade", "shade"
    SUN = "sun", "sun"


class Carrier(Owned, Figured, Keyed):
    key_fields = ("cooperative__slug", "name")

    name = Text("name", max_length=120)
    vehicle = Text("vehicle", max_length=12, choices=Vehicle.choices)
    ride = Text("where the carton rides", max_length=8, choices=Ride.choices)
    waits_in = Text("the carton waits for it in the", max_length=8, choices=WaitsIn.choices)
    cabin_offset_c = number(
        "warmer inside by (°C)",
        CABIN_OFFSET,
        "cabin or hold against the air outside; 0 on the roof",
        default=0,
    )
    carton_places = whole("places for cartons", CARTON_PLACES, "of the common size, on one trip")
    breakdown_chance = number("chance of a breakdown", SHARE, "on one trip: 0.05 is one in twenty")
    breakdown_hours_mean = number("hours of a breakdown, mean", BREAKDOWN_HOURS)
    breakdown_hours_cv = number("variation of the breakdown", VARIATION, "standard deviation over mean")

    class Meta:
        ordering = ("name", "id")
        constraints = [
            models.UniqueConstraint(
                fields=["cooperative", "name"], name="carrier_name_once_in_a_cooperative"
            ),
            *known("carrier", vehicle=Vehicle, ride=Ride, waits_in=WaitsIn),
            *ranges(
                "carrier",
                cabin_offset_c=CABIN_OFFSET,
                carton_places=CARTON_PLACES,
                breakdown_chance=SHARE,
                breakdown_hours_mean=BREAKDOWN_HOURS,
                breakdown_hours_cv=VARIATION,
            ),
            *sourced("carrier"),
        ]

    def __str__(self):
        return self.name
