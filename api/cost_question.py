"""What is asked of a cost: the parameters, and the consignment that they stand for."""

from rest_framework import serializers

from api.cooperative import today_of
from api.cost_lines import day_of
from api.departures_question import buyer_at
from api.question import Number, refused
from api.question_fields import LARGEST, Day, FishQuestion, chosen, require_hard
from coop.errors import Problem, invalid
from coop.selectors.buyers import buyers_of
from coop.selectors.carriers import carriers_of
from coop.selectors.cartons import carton_designs_of
from coop.selectors.cost_in_full import CostQuestion
from coop.selectors.packing import cartons_for, mass_fault
from coop.selectors.routes import routes_of
from coop.selectors.species import all_species, softens_at


class ConsignmentQuestion(FishQuestion):
    """One consignment with one carrier. The start temperature counts for `thickness` only."""

    start_temperature_c = Number(
        min_value=-40,
        required=False,
        help_text="°C of the fish, from -40 to where it softens; for thickness only",
    )
    route = serializers.SlugField()
    carrier = serializers.IntegerField(min_value=1, max_value=LARGEST)
    carton_design = serializers.SlugField()
    buyer = serializers.SlugField(
        required=False, help_text="short name of a buyer at the end of the route; else the first one there"
    )
    on = Day(required=False)
    cartons = serializers.IntegerField(min_value=1, max_value=10_000, required=False)
    softened_share = Number(min_value=0, max_value=1, default=0.0)
    with_fish = serializers.BooleanField(default=False)
    thickness = serializers.BooleanField(default=False)


class ConsignmentEchoOut(serializers.Serializer):
    """The question with its defaults filled in."""

    route = serializers.CharField()
    carrier = serializers.IntegerField()
    carton_design = serializers.CharField()
    species = serializers.CharField()
    mass_kg = serializers.FloatField()
    start_temperature_c = serializers.FloatField(allow_null=True)
    cartons = serializers.IntegerField()
    buyer = serializers.CharField()
    on = serializers.DateField()
    softened_share = serializers.FloatField()
    with_fish = serializers.BooleanField()
    thickness = serializers.BooleanField()

    example = {
        "route": "mpulungu-kasama",
        "carrier": 1,
        "carton_design": "common-carton",
        "species": "IRQ",
        "mass_kg": 80.0,
        "start_temperature_c": None,
        "cartons": 1,
        "buyer": "city-market",
        "on": "2026-03-02",
        "softened_share": 0.0,
        "with_fish": False,
        "thickness": False,
    }


def consignment_of(asked, cooperative):
    """The selectors' CostQuestion; a day that nobody names is today."""
    species = chosen(all_species(), "species", asked["species"], key="code")
    route = chosen(routes_of(cooperative), "route", asked["route"])
    carrier = chosen(carriers_of(cooperative), "carrier", asked["carrier"], key="pk")
    day = asked.get("on") or today_of(cooperative)
    design = chosen(carton_designs_of(cooperative).on(day), "carton_design", asked["carton_design"])
    return CostQuestion(
        cooperative=cooperative,
        route=route,
        buyer=buyer_at(route, buyers_of(cooperative), asked.get("buyer")),
        carrier=carrier,
        design=design,
        species=species,
        mass_kg=asked["mass_kg"],
        cartons=cartons_of(asked, design, carrier),
        day=day,
        softened_share=asked["softened_share"],
        with_fish=asked["with_fish"],
        start_temperature_c=start_of(asked, species),
    )


def start_of(asked, species):
    """°C of the fish where walls are to be compared, else None."""
    start = asked.get("start_temperature_c")
    if start is not None:
        require_hard(start, softens_at(species))
    if not asked["thickness"]:
        return None
    if start is None:
        right = "°C of the fish when the carton is closed"
        raise invalid("start_temperature_c", None, "is needed to compare thicknesses", right)
    return start


def cartons_of(asked, design, carrier):
    """How many cartons: those asked for if the fish and the vehicle agree, else as few as hold the fish."""
    mass, cartons = asked["mass_kg"], asked.get("cartons")
    fault = mass_fault(design, mass, places=carrier.carton_places)
    if fault:
        raise refused([fault])
    if cartons is None:
        return cartons_for(design, mass)
    if cartons > carrier.carton_places:
        right = f"1 to {carrier.carton_places}"
        raise invalid("cartons", cartons, "is more than the vehicle has places for", right)
    fault = mass_fault(design, mass / cartons, places=1)
    if fault:
        problem = f"makes {mass / cartons:.1f} kg in each: {fault.problem}"
        right = f"{cartons_for(design, mass)}, or others that hold {fault.right}"
        raise refused([Problem("cartons", cartons, problem, right)])
    return cartons


def echo_of(asked):
    return {
        "route": asked.route.slug,
        "carrier": asked.carrier.pk,
        "carton_design": asked.design.slug,
        "species": asked.species.code,
        "mass_kg": asked.mass_kg,
        "start_temperature_c": asked.start_temperature_c,
        "cartons": asked.cartons,
        "buyer": asked.buyer.slug,
        "on": day_of(asked.day),
        "softened_share": asked.softened_share,
        "with_fish": asked.with_fish,
        "thickness": asked.start_temperature_c is not None,
    }
