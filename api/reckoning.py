"""What a phone keeps of one departure to work it out again, without a signal, for other fish."""

import math

from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import cooperative_of, old_before_today
from api.departure_in_full import named
from api.departures import coin_of
from api.departures_item import InstantOut
from api.departures_question import DepartureQuestion, carton_question
from api.question import read, refused
from api.question_fields import chosen
from api.roles import VISITORS
from api.rounding import written
from coop.selectors.reckoning import STARTS, reckoning
from coop.selectors.routes import routes_of
from coop.selectors.species import all_species
from coop.selectors.usable_cartons import fault_of_design

HUNDREDTHS, TEN_THOUSANDTHS, MINUTE = 100, 10_000, 60.0
COARSE = 5
"""What need not be told more closely is rounded to so many, which weighs less on the way."""


class ReckoningQuestion(DepartureQuestion):
    """Any fish of one species: the phone is told its mass and temperature later."""

    mass_kg = None
    start_temperature_c = None


class WholeNumbers(serializers.ListField):
    def __init__(self, **options):
        super().__init__(child=serializers.IntegerField(), **options)


class GridOut(serializers.Serializer):
    """Figures of nodes, load by load and in each from cold to warm; read between by straight lines: of the
    chance those of the odds against it, and of the latest hour the lowest node around counts.
    """

    mass_kg = serializers.ListField(child=serializers.FloatField(), help_text="in one carton, rising")
    start_c = serializers.ListField(child=serializers.FloatField(), help_text="rising")
    hold_min = WholeNumbers(help_text="cautious, minutes")
    log_odds = WholeNumbers(help_text="hundredths of the natural logarithm of the odds of arriving hard")
    latest_min = WholeNumbers(help_text="minutes after closing; -1 where no hour is safe")
    softened = WholeNumbers(help_text="ten thousandths of the fish, rounded up")

    example = {
        "mass_kg": [10.0, 100.5],
        "start_c": [-30.0, -6.0],
        "hold_min": [430, 100, 1480, 620],
        "log_odds": [-640, -921, 220, -450],
        "latest_min": [-1, -1, 95, -1],
        "softened": [6200, 9900, 210, 5400],
    }


class SofteningOut(serializers.Serializer):
    hard_minor = serializers.IntegerField()
    soft_minor = serializers.IntegerField(allow_null=True)
    priced_on = serializers.DateField(allow_null=True)

    example = {"hard_minor": 6000, "soft_minor": 3500, "priced_on": "2026-02-20"}


class BillTermsOut(serializers.Serializer):
    """What the bill of any weight rests on; exact quantities as fractions in text."""

    carton = serializers.DictField(help_text="geometry of one carton, and how many of them the vehicle takes")
    lines = serializers.ListField(
        child=serializers.DictField(), help_text="items and rules of fare in the order of the bill"
    )
    softening = SofteningOut(allow_null=True)
    drip_share = serializers.CharField()
    earned_minor = serializers.IntegerField(allow_null=True, help_text="a kilogram, sold less bought")
    old_before = serializers.DateField()
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()

    example = {
        "carton": {"capacity_kg": 100.53, "places": 6},
        "lines": [{"code": "labour", "basis": "carton", "unit": "h", "rate_minor": 2500, "quantity": "7/12"}],
        "softening": SofteningOut.example,
        "drip_share": "53/2000",
        "earned_minor": 3000,
        "old_before": "2026-01-02",
        "currency": "ZMW",
        "currency_decimals": 2,
    }


class ReckoningOut(serializers.Serializer):
    id = serializers.CharField()
    departs_at = InstantOut()
    closes_at = InstantOut()
    wait_min = serializers.IntegerField(help_text="from closing to the planned departure, rounded up")
    confidence = serializers.FloatField(help_text="chance from which on it is safe")
    grid = GridOut(allow_null=True, help_text="null: this carton cannot be worked out again")
    bill = BillTermsOut()
    cost_missing = serializers.ListField(
        child=serializers.CharField(), help_text="prices without which no cost can be named"
    )

    example = {
        "id": "7-20260302-common-carton",
        "departs_at": "2026-03-02T16:00:00+02:00",
        "closes_at": "2026-03-02T15:20:00+02:00",
        "wait_min": 40,
        "confidence": 0.95,
        "grid": GridOut.example,
        "bill": BillTermsOut.example,
        "cost_missing": [],
    }


class Reckoning(APIView):
    """What a phone needs to work out one departure by itself, for any weight and start temperature."""

    may = {"GET": VISITORS}
    question = ReckoningQuestion
    output = ReckoningOut

    def get(self, request, name):
        asked, cooperative = read(ReckoningQuestion, request), cooperative_of(request)
        question = question_of(asked, cooperative, name)
        found = reckoning(question, name)
        return Response(reckoning_of(found, question, old_before_today(cooperative)))


def question_of(asked, cooperative, name):
    """The selectors' Question about one departure; its fish counts as any that fits."""
    timetable, day, design = named(name, cooperative)
    route = routes_of(cooperative).get(pk=timetable.route_id)
    species = chosen(all_species(), "species", asked["species"], key="code")
    fault = fault_of_design(design, species)
    if fault:
        raise refused([fault])
    fish = {"species": species, "mass_kg": 1.0, "start_temperature_c": STARTS[0]}
    return carton_question(asked, cooperative, route, fish, (design,), (day, day))


def reckoning_of(found, question, before):
    """ReckoningOut of a selectors' Reckoning."""
    slot, bill = found.plan.slot, found.bill
    return {
        "id": f"{slot.timetable.pk}-{slot.departs_at:%Y%m%d}-{found.design.slug}",
        "departs_at": written(slot.departs_at, question.zone),
        "closes_at": written(slot.closes_at, question.zone),
        "wait_min": math.ceil(slot.wait / MINUTE),
        "confidence": slot.standard.confidence,
        "grid": found.grid and grid_of(found.grid),
        "bill": {**bill_of(bill, before), **coin_of(question.cooperative)},
        "cost_missing": list(bill.missing),
    }


def grid_of(grid):
    """Whole numbers, each rounded to the careful side."""
    return {
        "mass_kg": list(grid.masses_kg),
        "start_c": list(grid.starts_c),
        "hold_min": whole(grid.hold, math.floor, unit=MINUTE),
        "log_odds": whole(grid.log_odds, math.floor, unit=1 / HUNDREDTHS, to=COARSE),
        "latest_min": whole(grid.latest, math.floor, unit=MINUTE),
        "softened": whole(grid.softened, math.ceil, unit=1 / TEN_THOUSANDTHS, to=COARSE),
    }


def whole(figures, rounded, *, unit, to=1):
    return [rounded(figure / unit / to) * to for figure in figures.ravel().tolist()]


def bill_of(bill, before):
    return {
        "carton": bill.carton,
        "lines": list(bill.lines),
        "softening": bill.softening,
        "drip_share": bill.drip_share,
        "earned_minor": bill.earned_minor,
        "old_before": before.isoformat(),
    }
