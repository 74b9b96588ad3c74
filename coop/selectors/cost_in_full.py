"""The cost of one consignment with everything that can be asked of it: ladder, cartons, box, walls."""

from dataclasses import dataclass
from datetime import date, timedelta

from coop.engines.carton import capacity
from coop.engines.carton_choice import CartonCount, Thickness
from coop.engines.price_ladder import Rung
from coop.models import Buyer, Carrier, CartonDesign, Cooperative, Route, Species
from coop.selectors.carton_choice import (
    BoxComparison,
    Wall,
    box_against_carton,
    cheapest_cartons,
    walls_to_choose,
)
from coop.selectors.cartons import carton_designs_of
from coop.selectors.cost import Bill, bill_of, ladder_of, prices_for
from coop.selectors.departure_slots import Question
from coop.selectors.engine_inputs import carton_of

DAYS_AHEAD = 6
"""In a week every vehicle of the timetable leaves at least once."""


@dataclass(frozen=True, kw_only=True)
class CostQuestion:
    """What a person asks the cost of. Walls are compared only for fish whose start temperature is known."""

    cooperative: Cooperative
    route: Route
    buyer: Buyer
    carrier: Carrier
    design: CartonDesign
    species: Species
    mass_kg: float
    cartons: int
    day: date
    softened_share: float
    with_fish: bool
    start_temperature_c: float | None = None


@dataclass(frozen=True)
class CostInFull:
    bill: Bill
    ladder: tuple[Rung, ...]
    pays_from_kg: float | None
    cheapest: CartonCount | None
    box: BoxComparison | None
    walls: tuple[Wall, ...]
    cheapest_wall: Thickness | None


def cost_in_full(asked: CostQuestion) -> CostInFull:
    prices = prices_for(asked.cooperative, asked.route, asked.buyer, asked.species)
    terms = {
        "carrier": asked.carrier,
        "design": asked.design,
        "day": asked.day,
        "softened_share": asked.softened_share,
        "with_fish": asked.with_fish,
    }
    fits = capacity(carton_of(asked.design))
    ladder, pays_from = ladder_of(prices, capacity_kg=fits, most_cartons=asked.carrier.carton_places, **terms)
    walls, cheapest_wall = (), None
    if asked.start_temperature_c is not None:
        walls, cheapest_wall = walls_to_choose(departures_question(asked), prices, asked.carrier)
    return CostInFull(
        bill=bill_of(prices, mass_kg=asked.mass_kg, cartons=asked.cartons, **terms),
        ladder=ladder,
        pays_from_kg=pays_from,
        cheapest=cheapest_cartons(prices, mass_kg=asked.mass_kg, **terms),
        box=box_of(asked, prices),
        walls=walls,
        cheapest_wall=cheapest_wall,
    )


def box_of(asked, prices):
    if not asked.design.returnable:
        return None
    return box_against_carton(
        prices,
        carton_designs_of(asked.cooperative).on(asked.day),
        carrier=asked.carrier,
        box=asked.design,
        mass_kg=asked.mass_kg,
        day=asked.day,
    )


def departures_question(asked):
    """The departures of the week that begins on the day asked for, as the thermal runs take them."""
    return Question(
        cooperative=asked.cooperative,
        route=asked.route,
        buyer=asked.buyer,
        species=asked.species,
        designs=(asked.design,),
        mass_kg=asked.mass_kg,
        start_temperature_c=asked.start_temperature_c,
        first_day=asked.day,
        last_day=asked.day + timedelta(days=DAYS_AHEAD),
        closes_at=None,
        deliver_by=None,
        with_fish=asked.with_fish,
    )
