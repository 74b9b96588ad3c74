"""What the bill of one departure rests on, so that a phone can work it out for any weight, to the coin.

A phone does with these figures, in the same order, what `cost`, `packing` and the engine of fares do here.
Exact quantities travel as fractions in text, what geometry reckons in floats as the same floats.
"""

from dataclasses import dataclass

from coop.engines import tariff as fares
from coop.engines.carton import capacity, room, volume_inside_board
from coop.engines.costing import DRIP_SHARE, RANK
from coop.engines.money import exact
from coop.engines.packing import LOOSE_SHAVINGS_DENSITY
from coop.models.cartons import MaterialUse
from coop.models.materials import Unit
from coop.selectors.cost import LADDER_KG, fish_items, items_of, material_items, tariff_counting
from coop.selectors.engine_inputs import carton_of
from coop.selectors.packing import LEAST_SHARE, pack
from coop.selectors.tariffs_reckoned import tariff_of

BY_LOAD = {
    (MaterialUse.INSULATION, Unit.SACK): "sacks",
    (MaterialUse.INSULATION, Unit.KILOGRAM): "insulation_kg",
    (MaterialUse.INSULATION, Unit.CUBIC_METRE): "insulation_m3",
    (MaterialUse.THIN_BAG, Unit.PIECE): "thin_bags",
}
"""Quantities that a lighter load changes; what else geometry tells is the same for every load."""


@dataclass(frozen=True)
class BillTerms:
    """Carton, lines in the order of the bill, and fish prices; with something missing there are no lines."""

    carton: dict
    lines: tuple[dict, ...]
    softening: dict | None
    earned_minor: int | None
    drip_share: str
    missing: tuple[str, ...]


def bill_terms(prices, *, carrier, design, day, with_fish=False) -> BillTerms:
    """BillTerms of consignments in cartons of one design, with one carrier, on one day."""
    missing, fish_price = [], prices.fish_price_on(day)
    found = [
        *_item_terms(prices, design, day, missing),
        *(_item_term(item) for item in (fish_items(fish_price, missing) if with_fish else ())),
        *_fare_terms(prices, carrier, design, day, missing),
    ]
    earned = fish_price and fish_price.sold_minor_per_kg - (
        0 if with_fish else fish_price.bought_minor_per_kg
    )
    return BillTerms(
        carton=carton_terms(design, carrier),
        lines=() if missing else tuple(sorted(found, key=lambda line: RANK[line["code"]])),
        softening=fish_price
        and {
            "hard_minor": fish_price.sold_minor_per_kg,
            "soft_minor": fish_price.soft_minor_per_kg,
            "priced_on": fish_price.confirmed_on.isoformat(),
        },
        earned_minor=fish_price and max(earned, 0),
        drip_share=str(DRIP_SHARE),
        missing=tuple(missing),
    )


def carton_terms(design, carrier):
    """Geometry of a carton, as engines.carton and selectors.packing reckon a load of it."""
    carton = carton_of(design)
    inside, fits = room(carton), capacity(carton)
    sacks = (row.material.sack_volume_m3 for row in design.materials.all())
    sack = next((volume for volume in sacks if volume), None)
    return {
        "capacity_kg": fits,
        "least_kg": LEAST_SHARE * fits,
        "places": carrier.carton_places,
        "ladder_kg": [LADDER_KG[0], LADDER_KG[-1], LADDER_KG[1] - LADDER_KG[0]],
        "height_m": inside.height,
        "floor_m2": inside.length * inside.width,
        "inside_m3": volume_inside_board(carton),
        "insulation_kg_m3": carton.insulation_density,
        "board_kg": pack(design, fits).board_mass,
        "empty_kg": design.empty_mass_kg,
        "thin_bag_kg": design.thin_bag_kg,
        "sack_kg": sack and sack * LOOSE_SHAVINGS_DENSITY,
    }


def _item_terms(prices, design, day, missing):
    """All that is paid for besides the fare; which load is taken does not matter."""
    packed = pack(design, capacity(carton_of(design)))
    rows = list(material_items(prices, design, packed, day, []))
    items = items_of(prices, design, ((packed, 1),), day, missing)
    for row, item in rows:
        by_load = BY_LOAD.get((row.use, row.material.unit)) if row.quantity is None else None
        yield _item_term(item, by_load)
    yield from (_item_term(item) for item in items[len(rows) :])


def _item_term(item, by_load=None):
    term = {"code": item.code, "basis": item.basis, "rate_minor": item.rate, "unit": item.unit or item.basis}
    term |= {"by_load": by_load} if by_load else {"quantity": str(item.quantity)}
    if item.name:
        term["name"] = item.name
    if item.priced_on:
        term["priced_on"] = item.priced_on.isoformat()
    if item.trips > 1 or item.loss_chance:
        term |= {"trips": item.trips, "loss_chance": str(item.loss_chance)}
    if item.whole_units:
        term["whole_units"] = True
    return term


def _fare_terms(prices, carrier, design, day, missing):
    row = tariff_counting(prices, carrier, day)
    if row is None:
        missing.append(f"fare of {carrier.name} on {day}")
        return
    try:
        tariff = tariff_of(row)
    except ValueError as unfinished:
        missing.append(
            f"fare of {carrier.name}, whose tariff from {row.valid_from} is not finished: {unfinished}"
        )
        return
    priced = {"priced_on": tariff.confirmed_on.isoformat()} if tariff.confirmed_on else {}
    plain = [rule for rule in tariff.rules if isinstance(rule, fares.Rule)]
    on_top = [rule for rule in tariff.rules if isinstance(rule, fares.Surcharge)]
    for rule in plain:
        amounts = {"amount_minor": rule.amount, "minimum_minor": rule.minimum_charge}
        yield {"code": rule.code, **amounts, **_rule_term(rule, design), **priced}
    for rule in on_top:
        if not rule.months or day.month in rule.months:
            yield {"code": rule.code, "share": str(rule.share), **priced}


def _rule_term(rule, design):
    """Steps, or claims of which the greatest counts: so much for what is weighed, each carton, or once."""
    if isinstance(rule, fares.ByStep):
        steps = [[str(step.from_mass), step.amount] for step in rule.steps]
        return {"steps": steps, "per_kilogram": rule.per_kilogram}
    sides = tuple(exact(side, getattr(design, f"outer_{side}_m")) for side in ("length", "width", "height"))
    weighed = [["gross", "1", "kg"], ["once", str(getattr(rule, "minimum_mass", 0)), "kg_at_least"]]
    if isinstance(rule, fares.PerVolumetricKilogram):
        by_volume = fares.volumetric_mass(sides, divisor=rule.divisor)
        return {"claims": [*weighed, ["carton", str(by_volume), "kg_by_volume"]], "whole_kilograms": True}
    if isinstance(rule, fares.PerKilogram):
        return {"claims": weighed}
    lost = exact("loss_chance", design.loss_chance, most=1)
    each = {
        fares.PerCarton: 1,
        fares.PerVolume: sides[0] * sides[1] * sides[2],
        fares.PerSeat: getattr(rule, "seats_per_carton", 0),
        fares.ReturnOfEmpty: 1 - lost if design.returnable else 0,
    }[type(rule)]
    return {"claims": [["carton", str(each), rule.unit]]}
