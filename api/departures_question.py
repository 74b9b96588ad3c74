"""What is asked of departures: the parameters, and the rows and hours that they stand for."""

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from rest_framework import serializers

from api.pagination import PageQuestion
from api.question import Number, refused
from api.question_fields import (
    LARGEST,
    Closing,
    Day,
    FishQuestion,
    Instant,
    Limit,
    chosen,
    confidence_field,
    named,
    require_hard,
)
from api.rounding import written
from coop.errors import invalid
from coop.selectors.buyers import buyers_of
from coop.selectors.carriers import carriers_of
from coop.selectors.cartons import designs_between
from coop.selectors.departure_slots import Question
from coop.selectors.packing import mass_fault
from coop.selectors.routes import routes_of
from coop.selectors.species import all_species, softens_at
from coop.selectors.standards import standard_on
from coop.selectors.timetables import timetables_between
from coop.selectors.usable_cartons import fault_of_design

USUAL_DAYS, MOST_DAYS = 7, 31
LONGEST_WAIT = timedelta(hours=96)
"""Nobody leaves a closed carton standing for longer; no run is longer either."""
ORDERINGS = ("departs_at", "cost_per_kg", "chance_hard", "margin_h", "latest_safe_departure_at")


class DepartureQuestion(FishQuestion):
    """One carton, wherever it goes."""

    buyer = serializers.SlugField(
        required=False, help_text="short name of a buyer at the end of the route; else the first one there"
    )
    closes_at = Closing(default=None)
    deliver_by = Instant(default=None)
    limit = Limit(required=False)
    confidence = confidence_field()
    with_fish = serializers.BooleanField(default=False)


class DeparturesQuestion(DepartureQuestion, PageQuestion):
    """A carton, or several to choose from, on the departures of one route."""

    route = serializers.SlugField()
    to = Day(required=False)
    carton_design = serializers.ListField(child=serializers.SlugField(), default=list, max_length=50)
    carrier = serializers.IntegerField(min_value=1, max_value=LARGEST, required=False)
    safe = serializers.BooleanField(required=False)
    min_chance = Number(min_value=0, max_value=1, required=False)
    max_cost_per_kg = serializers.IntegerField(
        min_value=0, max_value=LARGEST, required=False, help_text="whole minor units of the currency"
    )
    ordering = serializers.ChoiceField(
        choices=[*ORDERINGS, *(f"-{word}" for word in ORDERINGS)], default="departs_at"
    )

    def get_fields(self):
        return {**super().get_fields(), "from": Day(required=False)}


def question_of(asked, cooperative, now):
    """The selectors' Question of a list, and the carrier that alone is wanted or None."""
    route = chosen(routes_of(cooperative), "route", asked["route"])
    first_day, last_day = days_of(asked, ZoneInfo(cooperative.time_zone), now)
    carrier = None
    if "carrier" in asked:
        carrier = chosen(carriers_of(cooperative), "carrier", asked["carrier"], key="pk")
    fish = fish_of(asked)
    places = places_on(route, first_day, last_day, carrier)
    designs = designs_for(asked, designs_between(cooperative, first_day, last_day), fish["species"], places)
    whole = carton_question(asked, cooperative, route, fish, designs, (first_day, last_day))
    return whole, carrier


def days_of(asked, zone, now):
    """First and last day: a week from today if nothing is said."""
    first = asked.get("from") or now.astimezone(zone).date()
    last = asked.get("to") or first + timedelta(days=USUAL_DAYS - 1)
    if not first <= last <= first + timedelta(days=MOST_DAYS - 1):
        right = f"{first} to {first + timedelta(days=MOST_DAYS - 1)}"
        problem = "is before the first day" if last < first else f"is more than {MOST_DAYS} days"
        raise invalid("to", last, problem, right)
    return first, last


def fish_of(asked):
    """The fish of a question, by the names of the selectors' Question."""
    species = chosen(all_species(), "species", asked["species"], key="code")
    require_hard(asked["start_temperature_c"], softens_at(species))
    return {name: asked[name] for name in ("mass_kg", "start_temperature_c")} | {"species": species}


def places_on(route, first_day, last_day, carrier):
    """Most places for cartons that any vehicle of these days has, or None where none leaves."""
    carriers = {row.carrier for row in timetables_between(route, first_day, last_day)}
    wanted = (row for row in carriers if carrier in (None, row))
    return max((row.carton_places for row in wanted), default=None)


def designs_for(asked, rows, species, places):
    """Versions of the designs that are asked for, each of which must do; without any, all that do."""
    known = list(rows)
    named = [chosen(known, "carton_design", slug).slug for slug in dict.fromkeys(asked["carton_design"])]
    wanted = [row for slug in named for row in known if row.slug == slug]
    faults = {row.pk: design_fault(row, species, asked["mass_kg"], places) for row in wanted or known}
    fitting = tuple(row for row in wanted or known if faults[row.pk] is None)
    found = [fault for fault in faults.values() if fault]
    if found and (wanted or not fitting):
        raise refused(found)
    return fitting


def design_fault(design, species, mass_kg, places):
    """Why a design cannot carry this fish, or None."""
    most = places or max(1, round(mass_kg))
    return fault_of_design(design, species) or mass_fault(design, mass_kg, places=most)


def carton_question(asked, cooperative, route, fish, designs, days):
    """The selectors' Question, whatever it was asked for."""
    buyer = buyer_at(route, buyers_of(cooperative), asked.get("buyer"))
    kind, value = asked.get("limit") or (None, None)
    require_order(asked, days, ZoneInfo(cooperative.time_zone))
    return Question(
        cooperative=cooperative,
        route=route,
        buyer=buyer,
        designs=designs,
        first_day=days[0],
        last_day=days[1],
        closes_at=asked["closes_at"],
        deliver_by=asked["deliver_by"],
        limit_kind=kind,
        limit_value=value,
        confidence=asked.get("confidence"),
        with_fish=asked["with_fish"],
        **fish,
    )


def buyer_at(route, buyers, slug):
    """The buyer that is named, or else the first one, at the end of a route."""
    buyers = list(buyers)
    there = [row for row in buyers if row.place_id == route.destination_id]
    right = f"{named(row.slug for row in there)}, at {route.destination.name}"
    if slug is None:
        if not there:
            raise invalid("buyer", None, f"nobody takes fish at {route.destination.name}", right)
        return there[0]
    buyer = chosen(buyers, "buyer", slug)
    if buyer not in there:
        raise invalid("buyer", slug, f"is at {buyer.place.name}, where this route does not end", right)
    return buyer


def require_order(asked, days, zone):
    """Closing comes before leaving, and leaving before delivery."""
    opens, ends = (datetime.combine(day, time.min, zone) for day in (days[0], days[1] + timedelta(days=1)))
    closes_at, deliver_by = asked["closes_at"], asked["deliver_by"]
    if closes_at and closes_at >= ends:
        right = f"before {written(ends, zone)}, or later days"
        raise invalid("closes_at", written(closes_at, zone), "is after the last departure asked for", right)
    if closes_at and closes_at < opens - LONGEST_WAIT:
        right = f"from {written(opens - LONGEST_WAIT, zone)} on, or earlier days"
        raise invalid("closes_at", written(closes_at, zone), "is days before the first departure", right)
    begins = closes_at or opens
    if deliver_by and deliver_by <= begins:
        right = f"after {written(begins, zone)}"
        raise invalid("deliver_by", written(deliver_by, zone), "is before the carton is closed", right)


def require_departure_after(closes_at, departures, zone):
    """A closing after the last departure is a slip, and not a list of missed ones."""
    last = max((one.slot.departs_at for one in departures), default=None)
    if closes_at and last and closes_at > last:
        right = f"before the last departure, {written(last, zone)}"
        raise invalid("closes_at", written(closes_at, zone), "is after the last departure asked for", right)


def echo_of(question):
    """The question as it was answered, with every default filled in; names carry units.

    Where nothing else is asked, limit and confidence are those of the first day.
    """
    standard = standard_on(question, question.first_day)
    return {
        "route": question.route.slug,
        "from": question.first_day.isoformat(),
        "to": question.last_day.isoformat(),
        "carton_design": list(dict.fromkeys(design.slug for design in question.designs)),
        "species": question.species.code,
        "mass_kg": question.mass_kg,
        "start_temperature_c": question.start_temperature_c,
        "buyer": question.buyer.slug,
        "closes_at": written(question.closes_at, question.zone) or "late",
        "deliver_by": written(question.deliver_by, question.zone),
        "limit": f"{standard.limit_kind}:{standard.limit_value:g}",
        "confidence": standard.confidence,
        "with_fish": question.with_fish,
    }
