from coop.models.columns import Day
from coop.models.figures import Figured, sourced
from coop.models.history import History
from coop.models.measures import MONEY_MINOR, Range, money, number, ranges, whole
from coop.models.ownership import Owned
from coop.models.validity import Dated, dated

CONFIDENCE = Range(0.5, 0.999)
SOFTENED_LIMIT = Range(0.001, 0.5)
LEAD_MINUTES = Range(0, 1440)
PACKING_MINUTES = Range(0, 480)
FREEZING_KWH = Range(0, 5)
STALE_DAYS = Range(1, 365)


class Terms(Dated, Owned, Figured):
    """What a cooperative calls safe, how long packing takes, and what work and electricity cost it."""

    key_fields = ("cooperative__slug", "valid_from")
    alike = ("cooperative",)

    confidence = number(
        "confidence",
        CONFIDENCE,
        "chance of arriving hard that a safe departure must have: 0.95",
        default=0.95,
    )
    softened_share_limit = number(
        "softened share allowed",
        SOFTENED_LIMIT,
        "share of the fish that may have softened on arrival: 0.05, where the buyer sets none",
        default=0.05,
    )
    closing_lead_minutes = number(
        "minutes from closing to the vehicle", LEAD_MINUTES, "from closing the carton to being beside it"
    )
    electricity_price_minor_per_kwh = money("price of electricity a kWh", "in minor units (ngwee)")
    freezing_kwh_per_kg = number(
        "electricity to freeze a kilogram (kWh)",
        FREEZING_KWH,
        "metered; one fish plant takes 0.38",
        default=0.38,
    )
    labour_price_minor_per_hour = money("price of an hour of work", "in minor units (ngwee)")
    packing_minutes_per_carton = number("minutes to pack a carton", PACKING_MINUTES)
    stale_after_days = whole(
        "days until a figure is old",
        STALE_DAYS,
        "a price that nobody confirmed for longer is shown as old",
        default=30,
    )
    confirmed_on = Day("last confirmed on", help_text="when somebody last asked")

    history = History()

    class Meta:
        ordering = ("cooperative", "-valid_from")
        verbose_name = "terms"
        verbose_name_plural = "terms"
        constraints = [
            *ranges(
                "terms",
                confidence=CONFIDENCE,
                softened_share_limit=SOFTENED_LIMIT,
                closing_lead_minutes=LEAD_MINUTES,
                electricity_price_minor_per_kwh=MONEY_MINOR,
                freezing_kwh_per_kg=FREEZING_KWH,
                labour_price_minor_per_hour=MONEY_MINOR,
                packing_minutes_per_carton=PACKING_MINUTES,
                stale_after_days=STALE_DAYS,
            ),
            *sourced("terms"),
            *dated("terms"),
        ]

    def __str__(self):
        return f"terms from {self.valid_from}"
