import re
from datetime import datetime

from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import cooperative_of, old_before_today
from api.cost_lines import cost_of
from api.departure_in_full_shapes import DepartureInFullOut
from api.departures import coin_of
from api.departures_item import item_of
from api.departures_question import (
    DepartureQuestion,
    carton_question,
    design_fault,
    echo_of,
    fish_of,
    require_departure_after,
)
from api.packing import packing_of
from api.question import read, refused
from api.question_fields import EARLIEST, LARGEST, LATEST
from api.roles import VISITORS
from api.rounding import HOUR, down, minute_down, minute_up, nearest, up, written
from api.warming_curves import curve_of
from coop.errors import NotFound
from coop.selectors.cartons import carton_designs_of
from coop.selectors.departure_in_full import departure_in_full
from coop.selectors.routes import routes_of
from coop.selectors.timetables import timetables_of

NAME = re.compile(r"(\d{1,16})-(\d{8})-([-\w]+)")
CAUTIONS = ("estimate", "local_rule", "no_refreeze", "clean_bags")
CARRIES = {
    "SHADE": "wait_shade",
    "SUN": "wait_sun",
    "ROOF": "roof",
    "CABIN": "cabin",
    "HOLD": "hold",
}


class DepartureInFull(APIView):
    """One departure with one carton: how the fish warms, the way, the bill, the packing sheet."""

    may = {"GET": VISITORS}
    question = DepartureQuestion
    output = DepartureInFullOut

    def get(self, request, name):
        asked, cooperative = read(DepartureQuestion, request), cooperative_of(request)
        timetable, day, design = named(name, cooperative)
        question = question_of(asked, cooperative, timetable, day, design)
        found = departure_in_full(question, name)
        require_departure_after(question.closes_at, [found.departure], question.zone)
        return Response(whole_of(found, question))


def named(name, cooperative):
    """Timetable, day and carton design of a departure's name, if they are ours."""
    parts = NAME.fullmatch(name)
    missing = NotFound(f"no departure is called {name}")
    if not parts or int(parts[1]) > LARGEST:
        raise missing
    try:
        day = datetime.strptime(parts[2], "%Y%m%d").date()
    except ValueError:
        raise missing from None
    timetable = timetables_of(cooperative).filter(pk=int(parts[1])).first()
    design = carton_designs_of(cooperative).on(day).filter(slug=parts[3]).first()
    if timetable is None or design is None or not EARLIEST <= day.year <= LATEST:
        raise missing
    return timetable, day, design


def question_of(asked, cooperative, timetable, day, design):
    """The selectors' Question about one departure."""
    fish = fish_of(asked)
    fault = design_fault(design, fish["species"], fish["mass_kg"], timetable.carrier.carton_places)
    if fault:
        raise refused([fault])
    route = routes_of(cooperative).get(pk=timetable.route_id)
    return carton_question(asked, cooperative, route, fish, (design,), (day, day))


def whole_of(found, question):
    """DepartureInFullOut of the selectors' DepartureInFull."""
    departure, histamine = found.departure, question.species.histamine_prone
    bill, currency = departure.bill, question.cooperative.currency
    before = old_before_today(question.cooperative)
    priced = bill.cost is not None
    return {
        **item_of(departure, question, before),
        "question": echo_of(question),
        **coin_of(question.cooperative),
        "curve": journey_curve_of(found, question),
        "chances": [chance_of(departure, question, *one) for one in departure.judgement.chances],
        "strip": [stop_of(stop, question.zone) for stop in found.stops],
        "cost": cost_of(bill, found.ladder, found.pays_from_kg, currency, before=before) if priced else None,
        "packing": packing_of(found.sheet, departure.cartons),
        "cautions": [*CAUTIONS, *(["histamine"] if histamine else [])],
    }


def journey_curve_of(found, question):
    """The curve with the hours of the journey on it."""
    departure, judged = found.departure, found.departure.judgement
    first, median, last = (seconds / HOUR for seconds in judged.window)
    return {
        **curve_of(found.curves),
        "closes_at": written(departure.slot.closes_at, question.zone),
        "handover_h": {"p10": down(first, 2), "p50": up(median, 2), "p90": up(last, 2)},
        "departs_h": nearest(departure.slot.wait / HOUR, 2),
        "latest_departure_h": down(judged.latest_departure / HOUR, 2),
    }


def chance_of(departure, question, wait, chance):
    return {
        "departs_at": written(departure.after_closing(wait), question.zone),
        "chance_hard": down(chance, 3),
    }


def stop_of(stop, zone):
    return {
        "place": stop.place.name,
        "km": nearest(stop.km, 1),
        "altitude_m": nearest(stop.place.altitude_m, 0),
        "arrives_at": written(minute_up(stop.arrives_at), zone),
        "leaves_at": written(minute_down(stop.leaves_at), zone),
        "hours": nearest(stop.hours, 2),
        "air_c": nearest(stop.air, 1),
        "carries": CARRIES[stop.carries.name],
    }
