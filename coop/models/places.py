from zoneinfo import available_timezones

from django.core.exceptions import ValidationError
from django.core.validators import RegexValidator
from django.db import models
from django.db.models import F, Q

from coop.models.columns import Day, Link, Slug, Text
from coop.models.figures import Figured, Figures, figures_field, sourced
from coop.models.keys import Keyed
from coop.models.measures import CELSIUS, MONTH, SHARE, Range, known, number, ranges, rule, whole
from coop.models.ownership import Owned

LATITUDE = Range(-90, 90)
LONGITUDE = Range(-180, 180)
ALTITUDE = Range(-430, 6000)


def known_time_zone(name):
    if name not in available_timezones():
        raise ValidationError(
            "%(name)s is no time zone; one is Africa/Lusaka", code="time_zone", params={"name": name}
        )


def warmest_not_below_coldest(table):
    return rule(
        f"{table}_maximum_not_below_minimum",
        Q(temperature_max_c__gte=F("temperature_min_c")),
        "The maximum is not below the minimum.",
    )


class Place(Figured, Keyed):
    key_fields = ("code",)

    code = Slug("code", unique=True, help_text="short name in addresses: mpulungu")
    name = Text("name", max_length=80)
    country = Text(
        "country",
        max_length=2,
        validators=[RegexValidator(r"^[A-Z]{2}$")],
        help_text="two letters of ISO 3166: ZM",
    )
    latitude_deg = number("latitude (°)", LATITUDE, "north is positive")
    longitude_deg = number("longitude (°)", LONGITUDE, "east is positive")
    altitude_m = number("altitude (m)", ALTITUDE, "above the sea")
    time_zone = Text("time zone", max_length=64, validators=[known_time_zone])

    class Meta:
        ordering = ("name", "id")
        constraints = [
            *ranges("place", latitude_deg=LATITUDE, longitude_deg=LONGITUDE, altitude_m=ALTITUDE),
            *sourced("place"),
        ]

    def __str__(self):
        return self.name


class Climate(Figured, Keyed):
    """What one month is like at one place, the mean of many years."""

    key_fields = ("place__code", "month")

    place = Link(Place, on_delete=models.CASCADE, related_name="climates", verbose_name="place")
    month = whole("month", MONTH, "1 is January")
    temperature_max_c = number("mean maximum (°C)", CELSIUS, "of the days of the month, in the shade")
    temperature_min_c = number("mean minimum (°C)", CELSIUS, "of the nights of the month")
    cloud_share = number("share of the sky under cloud", SHARE, "0 is clear, 1 is overcast")
    cloud_figures = figures_field("the cloud was")

    class Meta:
        ordering = ("place", "month")
        verbose_name_plural = "climate"
        constraints = [
            models.UniqueConstraint(fields=["place", "month"], name="climate_once_a_month"),
            *ranges(
                "climate",
                month=MONTH,
                temperature_max_c=CELSIUS,
                temperature_min_c=CELSIUS,
                cloud_share=SHARE,
            ),
            warmest_not_below_coldest("climate"),
            *known("climate", cloud_figures=Figures),
            *sourced("climate"),
        ]

    def __str__(self):
        return f"{self.place}, month {self.month}"


class WeatherKind(models.TextChoices):
    OBSERVED = "observed", "observed"
    FORECAST = "forecast", "forecast"


class DayWeather(Owned, Keyed):
    """What somebody entered for one day at one place: it stands in for the climate."""

    key_fields = ("cooperative__slug", "place__code", "date", "kind")

    place = Link(Place, on_delete=models.PROTECT, related_name="day_weathers", verbose_name="place")
    date = Day("day")
    temperature_max_c = number("maximum (°C)", CELSIUS, "in the shade")
    temperature_min_c = number("minimum (°C)", CELSIUS)
    cloud_share = number(
        "share of the sky under cloud", SHARE, "0 is clear, 1 is overcast; empty takes the month's", null=True
    )
    kind = Text("kind", max_length=10, choices=WeatherKind.choices)

    class Meta:
        ordering = ("-date", "place", "kind")
        verbose_name = "weather of a day"
        verbose_name_plural = "weather of days"
        constraints = [
            models.UniqueConstraint(
                fields=["cooperative", "place", "date", "kind"], name="day_weather_once_a_day_and_kind"
            ),
            *ranges("day_weather", temperature_max_c=CELSIUS, temperature_min_c=CELSIUS, cloud_share=SHARE),
            warmest_not_below_coldest("day_weather"),
            *known("day_weather", kind=WeatherKind),
        ]

    def __str__(self):
        return f"{self.place} {self.date} ({self.kind})"
