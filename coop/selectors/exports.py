"""What is stored, as lines of plain values by column: what an export writes and an import compares with."""

from coop.models import Charge, FishPrice, MaterialPrice
from coop.models.timetables import WEEKDAYS
from coop.selectors.members import members_of
from coop.selectors.tariffs import tariffs_of
from coop.selectors.timetables import timetables_of

RULE = (
    "kind",
    "minimum_minor",
    "minimum_kg",
    "seats_per_carton",
    "volumetric_divisor_cm3_per_kg",
    "surcharge_share",
    "steps_per_kilogram",
)
TIMETABLE = ("leaves_when_full", "delay_hours_mean", "delay_hours_cv", "seats_left", "riders_per_hour")
FISH_PRICE = ("bought_minor_per_kg", "sold_minor_per_kg", "soft_minor_per_kg")


def columns_of(row, names):
    return {name: getattr(row, name) for name in names}


def days_of(row):
    return columns_of(row, ("valid_from", "valid_until"))


def fare_lines(cooperative):
    """A line for each rule of each tariff; of a rule by steps one for each step, with its amount."""
    rows = tariffs_of(cooperative).order_by("carrier__name", "route__slug", "valid_from")
    for tariff in rows:
        of_tariff = {"carrier": tariff.carrier.name, "route": tariff.route.slug, **days_of(tariff)}
        for rule in sorted(tariff.rules.all(), key=lambda rule: rule.position):
            of_rule = {"rule": rule.position, **columns_of(rule, RULE), "months": tuple(rule.months)}
            steps = sorted(rule.steps.all(), key=lambda step: step.from_kg)
            parts = [(step.from_kg, step.amount_minor) for step in steps] or [(None, rule.amount_minor)]
            for from_kg, amount_minor in parts:
                yield {**of_tariff, **of_rule, "from_kg": from_kg, "amount_minor": amount_minor}


def fish_price_lines(cooperative):
    rows = FishPrice.objects.of(cooperative).select_related("species")
    for row in rows.order_by("species__code", "valid_from"):
        yield {"species": row.species.code, **days_of(row), **columns_of(row, FISH_PRICE)}


def material_price_lines(cooperative):
    rows = MaterialPrice.objects.of(cooperative).select_related("material")
    for row in rows.order_by("material__slug", "valid_from"):
        yield {"material": row.material.slug, **days_of(row), "amount_minor": row.amount_minor}


def charge_lines(cooperative):
    rows = Charge.objects.of(cooperative).select_related("route", "buyer")
    for row in rows.order_by("kind", "name", "route__slug", "buyer__slug", "valid_from"):
        yield {
            **columns_of(row, ("kind", "name")),
            "route": row.route and row.route.slug,
            "buyer": row.buyer and row.buyer.slug,
            **days_of(row),
            **columns_of(row, ("basis", "amount_minor")),
        }


def member_lines(cooperative):
    for row in members_of(cooperative).order_by("name", "phone"):
        yield columns_of(row, ("name", "phone", "role", "joined_on", "left_on"))


def timetable_lines(cooperative):
    rows = timetables_of(cooperative)
    for row in rows.order_by("route__slug", "carrier__name", "departs_at_local", "valid_from"):
        yield {
            "carrier": row.carrier.name,
            "route": row.route.slug,
            "departs_at_local": row.departs_at_local,
            **days_of(row),
            **columns_of(row, WEEKDAYS),
            **columns_of(row, TIMETABLE),
        }
