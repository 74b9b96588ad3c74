"""A new fare or a surcharge tried before it is saved: what it does to coming departures and open quotes."""

from datetime import timedelta

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.carriers import CarrierName
from api.cartons import CartonDesignName
from api.cooperative import person_of, today_of
from api.departures_item import InstantOut
from api.departures_question import buyer_at
from api.question import Number
from api.question_fields import Day, chosen
from api.quotes_item import losing_item
from api.quotes_shapes import LosingOut
from api.roles import MANAGERS
from api.rounding import written
from api.tariffs import FareIn, fare_named
from coop.errors import invalid
from coop.selectors.buyers import buyers_of
from coop.selectors.quotes_losing import losing_quotes
from coop.selectors.routes import routes_of
from coop.selectors.species import all_species
from coop.selectors.what_if import Trial, departures_tried
from coop.services.tariffs import wanted_rules

MOST_DAYS = 31


class WhatIfIn(serializers.Serializer):
    valid_from = Day(help_text="a date such as 2026-03-02, today or later, from which it would count")
    tariffs = FareIn(many=True, default=list, max_length=50)
    surcharge_share = Number(
        min_value=-0.9, max_value=5, allow_null=True, default=None, help_text="on top of every fare: 0.1"
    )
    route = serializers.SlugField(max_length=64)
    buyer = serializers.SlugField(max_length=64, help_text="short name of a buyer at the end of the route")
    species = serializers.CharField(max_length=3, help_text="three letters of FAO ASFIS such as IRQ")
    mass_kg = Number(min_value=0.1, max_value=100_000)
    last_day = Day(help_text="a date such as 2026-03-09, until which departures are shown")

    example = {
        "valid_from": "2026-03-03",
        "tariffs": [FareIn.example],
        "surcharge_share": None,
        "route": "mpulungu-kasama",
        "buyer": "city-market",
        "species": "IRQ",
        "mass_kg": 80.0,
        "last_day": "2026-03-09",
    }


class TriedOut(serializers.Serializer):
    id = serializers.CharField(help_text="as the page of departures names it")
    departs_at = InstantOut()
    carrier = CarrierName()
    carton_design = CartonDesignName()
    before_minor_per_kg = serializers.IntegerField(allow_null=True, help_text="null: a price is missing")
    after_minor_per_kg = serializers.IntegerField(allow_null=True)

    example = {
        "id": "7-20260303-common-carton",
        "departs_at": "2026-03-03T16:00:00+02:00",
        "carrier": CarrierName.example,
        "carton_design": CartonDesignName.example,
        "before_minor_per_kg": 1247,
        "after_minor_per_kg": 1310,
    }


class WhatIfOut(serializers.Serializer):
    departures = TriedOut(many=True)
    quotes = LosingOut(many=True, help_text="that would lose money")

    example = {"departures": [TriedOut.example], "quotes": [LosingOut.example]}


class WhatIf(APIView):
    """Nothing is written: what coming departures would cost, and which quotes would lose money."""

    may = {"POST": MANAGERS}
    body = {"POST": WhatIfIn}
    output = WhatIfOut

    def post(self, request):
        asked, person, now = read_body(WhatIfIn, request), person_of(request), timezone.now()
        trial, way = trial_of(asked, person.cooperative), way_of(asked, person.cooperative)
        tried = departures_tried(trial, **way, now=now)
        losing = losing_quotes(person.cooperative, now=now, prices_of=trial.prices)
        return Response(
            {
                "departures": [tried_of(one, person.zone) for one in tried],
                "quotes": [losing_item(one) for one in losing],
            }
        )


def trial_of(asked, cooperative):
    """The selectors' Trial; two fares for one carrier on one route are a slip."""
    require_days(asked, today_of(cooperative))
    rules = {}
    for place, fare in enumerate(asked["tariffs"]):
        named = fare_named(fare, cooperative)
        wanted_rules(fare["rules"])
        way = (named["carrier"].pk, named["route"].pk)
        if way in rules:
            right = "one fare for a carrier and a route"
            raise invalid(f"tariffs.{place}.carrier", named["carrier"].pk, "is named twice", right)
        rules[way] = fare["rules"]
    return Trial(cooperative, asked["valid_from"], rules, asked["surcharge_share"])


def require_days(asked, today):
    first, last = asked["valid_from"], asked["last_day"]
    if first < today:
        raise invalid("valid_from", first.isoformat(), "is over", f"{today.isoformat()} or later")
    furthest = first + timedelta(days=MOST_DAYS - 1)
    if not first <= last <= furthest:
        right = f"{first.isoformat()} to {furthest.isoformat()}"
        raise invalid("last_day", last.isoformat(), "is before the change, or too far from it", right)


def way_of(asked, cooperative):
    route = chosen(routes_of(cooperative), "route", asked["route"])
    return {
        "route": route,
        "buyer": buyer_at(route, buyers_of(cooperative), asked["buyer"]),
        "species": chosen(all_species(), "species", asked["species"], key="code"),
        "mass_kg": asked["mass_kg"],
        "last_day": asked["last_day"],
    }


def tried_of(one, zone):
    carrier, design = one.slot.carrier, one.design
    return {
        "id": one.key,
        "departs_at": written(one.slot.departs_at, zone),
        "carrier": {"id": carrier.pk, "name": carrier.name},
        "carton_design": {"slug": design.slug, "name": design.name, "returnable": design.returnable},
        "before_minor_per_kg": one.before and one.before.per_kilogram,
        "after_minor_per_kg": one.after and one.after.per_kilogram,
    }
