"""A bill as it is shown: its lines, what a sound kilogram costs, and the cost of other weights."""

from rest_framework import serializers

from api.rounding import down, nearest
from coop.selectors.old_prices import is_old, old_lines

NAMES = {
    "fish": "Fish",
    "freezing_energy": "Freezing",
    "labour": "Packing",
    "fare_per_carton": "Fare, by the carton",
    "fare_per_kilogram": "Fare, by weight",
    "fare_by_step": "Fare, by steps of weight",
    "fare_per_volume": "Fare, by volume",
    "fare_per_volumetric_kilogram": "Fare, by weight or volume",
    "fare_per_seat": "Fare, by the seat",
    "fare_surcharge": "On top of the fare",
    "return_of_empty": "Return of the empty box",
    "softening": "Fish that may soften",
}
"""Of the lines whose price has no name of its own."""


class LineOut(serializers.Serializer):
    code = serializers.CharField()
    name = serializers.CharField()
    amount_minor = serializers.IntegerField()
    quantity = serializers.FloatField()
    unit = serializers.CharField()
    rate_minor = serializers.IntegerField()
    priced_on = serializers.DateField(allow_null=True)
    is_old = serializers.BooleanField(help_text="nobody has confirmed its price for too long")

    example = {
        "code": "fare_per_carton",
        "name": "Fare, by the carton",
        "amount_minor": 30000,
        "quantity": 1.0,
        "unit": "carton",
        "rate_minor": 30000,
        "priced_on": "2026-02-20",
        "is_old": False,
    }


class RungOut(serializers.Serializer):
    mass_kg = serializers.FloatField()
    cartons = serializers.IntegerField()
    total_minor = serializers.IntegerField()
    per_kg_minor = serializers.IntegerField(allow_null=True, help_text="rounded up")

    example = {"mass_kg": 80.0, "cartons": 1, "total_minor": 99725, "per_kg_minor": 1247, "break": False}

    def get_fields(self):
        breaks = serializers.BooleanField(help_text="another carton, step or minimum begins here")
        return {**super().get_fields(), "break": breaks}


class CostOut(serializers.Serializer):
    currency = serializers.CharField()
    lines = LineOut(many=True)
    total_minor = serializers.IntegerField(allow_null=True)
    sound_kg = serializers.FloatField(allow_null=True)
    per_kg_minor = serializers.IntegerField(allow_null=True, help_text="of a sound kilogram; rounded up")
    ladder = RungOut(many=True)
    break_even_kg = serializers.FloatField(
        allow_null=True, help_text="lightest weight of the ladder that costs no more than it earns"
    )
    confirmed_on = serializers.DateField(allow_null=True, help_text="of the price confirmed longest ago")
    old_prices = serializers.IntegerField(help_text="lines that rest on an old price")

    example = {
        "currency": "ZMW",
        "lines": [LineOut.example],
        "total_minor": 30000,
        "sound_kg": 79.9,
        "per_kg_minor": 376,
        "ladder": [RungOut.example],
        "break_even_kg": 40.0,
        "confirmed_on": "2026-02-20",
        "old_prices": 0,
    }


def cost_of(bill, ladder, pays_from, currency, *, before):
    """CostOut of a Bill, empty where a price is missing: a sum that leaves something out is no sum.

    What was confirmed before the day `before` is old.
    """
    cost = bill.cost
    return {
        "currency": currency,
        "lines": [line_of(line, before) for line in cost.lines] if cost else [],
        "total_minor": cost and cost.total,
        "sound_kg": cost and down(cost.sound_mass, 2),
        "per_kg_minor": cost and cost.per_kilogram,
        "ladder": [rung_of(rung) for rung in ladder],
        "break_even_kg": down(pays_from, 1),
        "confirmed_on": day_of(cost and cost.oldest_price),
        "old_prices": old_lines(cost, before) if cost else 0,
    }


def line_of(line, before):
    return {
        "code": line.code,
        "name": line.name or NAMES[line.code],
        "amount_minor": line.amount_minor,
        "quantity": nearest(line.quantity, 6),
        "unit": line.unit,
        "rate_minor": int(line.rate_minor),
        "priced_on": day_of(line.priced_on),
        "is_old": is_old(line.priced_on, before),
    }


def rung_of(rung):
    return {
        "mass_kg": float(rung.mass),
        "cartons": rung.cartons,
        "total_minor": rung.total,
        "per_kg_minor": rung.per_kilogram,
        "break": rung.is_break,
    }


def day_of(date):
    return date and date.isoformat()
