"""Which waiting lot would go in which carton when: whoever packs asks, sees, and accepts or does not."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.given import Given, status_of
from api.lots import slug_of
from api.parcels import parcels_shown
from api.parcels_item import a_kilogram
from api.parcels_reasons import told
from api.plans_shapes import AcceptedOut, PlanOut
from api.plans_words import words_of
from api.question import nothing_asked
from api.question_fields import Day, chosen
from api.roles import PACKERS
from api.rounding import down, written
from api.sign_in import NothingIn
from api.stored import one_of
from coop.selectors.buyers import buyers_of
from coop.selectors.plans import plans_of
from coop.selectors.routes import routes_of
from coop.services.plans import accept_plan, is_stale, propose_plan


class PlanIn(Given):
    route = serializers.SlugField(max_length=64)
    buyer = serializers.SlugField(max_length=64, help_text="short name of a buyer at the end of the route")
    to = Day(help_text="a date such as 2026-03-04: the last day on which anything leaves")

    example = {
        **Given.example,
        "route": "mpulungu-kasama",
        "buyer": "city-market",
        "from": "2026-03-02",
        "to": "2026-03-04",
    }

    def get_fields(self):
        first = Day(help_text="a date such as 2026-03-02: the first day on which anything leaves")
        return {**super().get_fields(), "from": first}


class Plans(APIView):
    """Asks which of the waiting lots travel in which carton, at the least cost; nothing is moved by it."""

    may = {"POST": PACKERS}
    body = {"POST": PlanIn}
    output = PlanOut
    status = {"POST": 201}

    def post(self, request):
        asked, person, now = read_body(PlanIn, request), person_of(request), timezone.now()
        plan = propose_plan(
            by=person.member,
            route=chosen(routes_of(person.cooperative), "route", asked["route"]),
            buyer=chosen(buyers_of(person.cooperative), "buyer", asked["buyer"]),
            first_day=asked["from"],
            last_day=asked["to"],
            uuid=asked.get("uuid"),
            now=now,
        )
        return Response(plan_shown(plan, person, now), status=status_of(plan.asked_at, now))


class Plan(APIView):
    """One plan, and whether what it rests on has changed since."""

    may = {"GET": PACKERS}
    output = PlanOut

    def get(self, request, uuid):
        nothing_asked(request)
        person = person_of(request)
        plan = one_of(plans_of(person.cooperative), uuid=uuid)
        return Response(plan_shown(plan, person, timezone.now()))


class Acceptance(APIView):
    """Opens the parcels of a plan and puts its lots into them: all, or nothing where something changed."""

    may = {"POST": PACKERS}
    body = {"POST": NothingIn}
    output = AcceptedOut

    def post(self, request, uuid):
        person = person_of(request)
        plan = one_of(plans_of(person.cooperative), uuid=uuid)
        read_body(NothingIn, request)
        with told(ZoneInfo(person.cooperative.time_zone)):
            parcels = accept_plan(by=person.member, plan=plan, now=timezone.now())
        return Response({"parcels": parcels_shown(parcels, person)})


def plan_shown(plan, person, now):
    """PlanOut of a stored plan; once accepted it is history and no more out of date."""
    zone, proposal = ZoneInfo(person.cooperative.time_zone), plan.proposal
    return {
        "id": str(plan.uuid),
        "asked_at": written(plan.asked_at, zone),
        "route": slug_of(plan.route),
        "buyer": slug_of(plan.buyer),
        "from": plan.first_day.isoformat(),
        "to": plan.last_day.isoformat(),
        "cartons": [carton_item(row, person, zone) for row in proposal["cartons"]],
        "mass_kg": proposal["mass_kg"],
        "cost_minor": plan.cost_minor,
        "cost_per_kg_minor": a_kilogram(plan.cost_minor, proposal["mass_kg"]),
        "bound_minor": plan.bound_minor,
        "gap": plan.gap,
        "left_behind": [left_item(row) for row in proposal["left_behind"]],
        "accepted_at": written(plan.accepted_at, zone),
        "stale": plan.accepted_at is None and is_stale(plan, now),
    }


def carton_item(row, person, zone):
    kept = ("departure", "carrier", "carton_design", "mass_kg", "capacity_kg", "cost_minor")
    return {
        **{name: row[name] for name in kept},
        "departs_at": written(datetime.fromisoformat(row["departs_at"]), zone),
        "closes_at": written(datetime.fromisoformat(row["closes_at"]), zone),
        "chance_hard": down(row["chance_hard"], 3),
        "parts": [{**part, "mine": part["member"]["id"] == person.member.pk} for part in row["parts"]],
    }


def left_item(row):
    return {**row, "words": words_of(row["code"], row["values"])}
