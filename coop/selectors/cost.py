"""What a consignment costs on a day, line by line, from the fares and prices that count on that day."""

from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction

from coop.engines import tariff as fares
from coop.engines.carton import load
from coop.engines.costing import Cost, Item, Softening, cost
from coop.engines.money import exact
from coop.engines.price_ladder import first_mass_that_pays, price_ladder
from coop.models import Buyer, Charge, Cooperative, FishPrice, MaterialPrice, Route, Tariff, Terms
from coop.models.cartons import MaterialUse
from coop.selectors.charges import charges_of
from coop.selectors.engine_inputs import carton_of
from coop.selectors.materials import material_prices_of
from coop.selectors.packing import LEAST_SHARE, computed_quantities, gross_kg, pack, quantity_of
from coop.selectors.prices import fish_prices_of
from coop.selectors.tariffs import tariffs_of
from coop.selectors.tariffs_reckoned import tariff_of
from coop.selectors.terms import terms_of

LADDER_KG = tuple(range(5, 505, 5))
WHOLE_UNITS = ("piece", "sack")


@dataclass(frozen=True)
class Prices:
    """Every fare, charge and price that may count for a buyer on a route, and the terms, read once."""

    cooperative: Cooperative
    route: Route
    buyer: Buyer
    tariffs: tuple[Tariff, ...]
    charges: tuple[Charge, ...]
    fish_prices: tuple[FishPrice, ...]
    material_prices: tuple[MaterialPrice, ...]
    terms: tuple[Terms, ...]

    def material_price(self, material, day):
        """The price of a material that counts on a day, or None."""
        return _counting((row for row in self.material_prices if row.material_id == material.pk), day)

    def fish_price_on(self, day):
        """The price of the fish that counts on a day, or None."""
        return _counting(self.fish_prices, day)

    def terms_on(self, day):
        """The terms that count on a day, or None."""
        return _counting(self.terms, day)


@dataclass(frozen=True)
class Bill:
    """A cost, or what is missing to work it out: a sum that leaves something out would be worse than none."""

    cost: Cost | None
    missing: tuple[str, ...]


def prices_for(cooperative, route, buyer, species):
    charges = charges_of(cooperative)
    return Prices(
        cooperative,
        route,
        buyer,
        tuple(tariffs_of(cooperative).filter(route=route)),
        tuple(charge for charge in charges if concerns(charge, route, buyer)),
        tuple(fish_prices_of(cooperative).filter(species=species)),
        tuple(material_prices_of(cooperative)),
        tuple(terms_of(cooperative)),
    )


def bill_of(prices, *, carrier, design, mass_kg, cartons, day, softened_share=0.0, with_fish=False):
    """Bill of one consignment: fish shared out evenly over cartons of one design, on one departure."""
    loads = ((pack(design, mass_kg / cartons), cartons),)
    fish_price = prices.fish_price_on(day)
    missing = []
    items = items_of(prices, design, loads, day, missing)
    if with_fish:
        items += fish_items(fish_price, missing)
    fare = _fare_lines(prices, carrier, design, loads, day, missing)
    if missing:
        return Bill(None, tuple(missing))
    softening = Softening(
        share=exact("softened_share", softened_share, most=1),
        hard_price=fish_price and fish_price.sold_minor_per_kg,
        soft_price=fish_price and fish_price.soft_minor_per_kg,
        priced_on=fish_price and fish_price.confirmed_on,
    )
    return Bill(cost(mass=mass_kg, cartons=cartons, items=items, fare=fare, softening=softening), ())


def bill_of_cartons(prices, *, carrier, design, masses_kg, day):
    """What is really paid for one consignment whose cartons hold these kilograms, each packed by its own."""
    counts = Counter(masses_kg)
    loads = tuple((load(carton_of(design), mass), count) for mass, count in counts.items())
    missing = []
    items = items_of(prices, design, loads, day, missing)
    fare = _fare_lines(prices, carrier, design, loads, day, missing)
    if missing:
        return Bill(None, tuple(dict.fromkeys(missing)))
    mass = sum(exact("masses_kg", mass) for mass in masses_kg)
    return Bill(cost(mass=mass, cartons=len(masses_kg), items=items, fare=fare), ())


def ladder_of(
    prices, *, carrier, design, capacity_kg, most_cartons, day, softened_share=0.0, with_fish=False
):
    """Rungs of 5 kg up to what the vehicle holds, and the lightest that pays; either may be none."""
    rungs = [kg for kg in LADDER_KG if LEAST_SHARE * capacity_kg <= kg <= capacity_kg * most_cartons]

    def bill(mass):
        cartons = -(-mass // Fraction(capacity_kg))
        return bill_of(
            prices, carrier=carrier, design=design, mass_kg=float(mass), cartons=int(cartons), day=day,
            softened_share=softened_share, with_fish=with_fish,
        ).cost  # fmt: skip

    if not rungs or bill(rungs[0]) is None:
        return (), None
    ladder = price_ladder(rungs, cost=bill)
    fish_price = prices.fish_price_on(day)
    if fish_price is None:
        return ladder, None
    earned = fish_price.sold_minor_per_kg - (0 if with_fish else fish_price.bought_minor_per_kg)
    return ladder, first_mass_that_pays(ladder, price=max(earned, 0))


def rows_behind(prices, designs):
    """What bills rest on besides the rows of `prices` and the designs, for the key of an answer."""
    rules = [(rule, *rule.steps.all()) for tariff in prices.tariffs for rule in tariff.rules.all()]
    rows = [row for design in designs for row in design.materials.all()]
    return (*rules, *((row, row.material) for row in rows))


def concerns(charge, route, buyer):
    """Whether a charge is paid on a route for a buyer."""
    return charge.route_id in (None, route.pk) and charge.buyer_id in (None, buyer.pk)


def _counting(rows, day):
    return next((row for row in rows if row.counts_on(day)), None)


def items_of(prices, design, loads, day, missing):
    """All that is paid for besides the fare; loads are pairs of an engine's Load and how many cartons."""
    return [
        *_packing_items(prices, design, loads, day, missing),
        *_work_items(prices.terms_on(day), day, missing),
        *_charge_items(prices.charges, day),
    ]


def _packing_items(prices, design, loads, day, missing):
    """What packing all cartons takes; where they hold unlike kilograms, one sum for the consignment."""
    found = [
        [(item, count) for _, item in material_items(prices, design, packed, day, missing)]
        for packed, count in loads
    ]
    if len(found) == 1:
        return [item for item, _ in found[0]]
    return [
        replace(same[0][0], basis="consignment", quantity=sum(item.quantity * count for item, count in same))
        for same in zip(*found, strict=True)
    ]


def material_items(prices, design, load, day, missing):
    """What packing one carton takes, row by row; what lasts is charged by its share of a trip."""
    computed = computed_quantities(design, load)
    for row in design.materials.all():
        price, quantity = prices.material_price(row.material, day), quantity_of(row, computed)
        if price is None or quantity is None:
            missing.append(f"{'price' if price is None else 'quantity'} of {row.material.name}")
            continue
        lasting = is_lasting(row)
        yield (
            row,
            Item(
                code="material",
                basis="carton",
                rate=price.amount_minor,
                quantity=exact("quantity", quantity),
                unit=row.material.unit,
                name=row.material.name,
                priced_on=price.confirmed_on,
                trips=design.expected_trips if lasting else 1,
                loss_chance=exact("loss_chance", design.loss_chance if lasting else 0, most=1),
                whole_units=row.material.unit in WHOLE_UNITS and not lasting,
            ),
        )


def is_lasting(row):
    """Whether a material of a design comes back and makes more trips."""
    return row.design.returnable and (row.returns_with_box or row.use == MaterialUse.BOX)


def _work_items(terms, day, missing):
    if terms is None:
        missing.append(f"terms of the cooperative on {day}")
        return
    yield Item(
        code="freezing_energy",
        basis="kilogram",
        rate=terms.electricity_price_minor_per_kwh,
        quantity=exact("freezing_kwh_per_kg", terms.freezing_kwh_per_kg),
        unit="kWh",
        priced_on=terms.confirmed_on,
    )
    yield Item(
        code="labour",
        basis="carton",
        rate=terms.labour_price_minor_per_hour,
        quantity=exact("packing_minutes_per_carton", terms.packing_minutes_per_carton) / 60,
        unit="h",
        priced_on=terms.confirmed_on,
    )


def _charge_items(charges, day):
    for charge in charges:
        if charge.counts_on(day):
            yield Item(
                code=charge.kind,
                basis=charge.basis,
                rate=charge.amount_minor,
                name=charge.name,
                priced_on=charge.confirmed_on,
            )


def fish_items(fish_price, missing):
    """The fish itself at what it was bought for."""
    if fish_price is None:
        missing.append("price of the fish")
        return []
    item = Item(
        code="fish",
        basis="kilogram",
        rate=fish_price.bought_minor_per_kg,
        unit="kg",
        priced_on=fish_price.confirmed_on,
    )
    return [item]


def _fare_lines(prices, carrier, design, loads, day, missing):
    row = tariff_counting(prices, carrier, day)
    if row is None:
        missing.append(f"fare of {carrier.name} on {day}")
        return ()
    cartons = sum(count for _, count in loads)
    empties = (
        cartons * (1 - exact("loss_chance", design.loss_chance, most=1)) if design.returnable else Fraction(0)
    )
    consignment = fares.Consignment(
        gross_mass=sum(
            exact("gross_mass", round(gross_kg(design, packed), 3)) * count for packed, count in loads
        ),
        cartons=cartons,
        outer_length=exact("outer_length", design.outer_length_m),
        outer_width=exact("outer_width", design.outer_width_m),
        outer_height=exact("outer_height", design.outer_height_m),
        empties=empties,
    )
    try:
        counting = tariff_of(row)
    except ValueError as unfinished:
        missing.append(
            f"fare of {carrier.name}, whose tariff from {row.valid_from} is not finished: {unfinished}"
        )
        return ()
    return fares.fare(counting, consignment=consignment, on=day)


def tariff_counting(prices, carrier, day):
    """The stored tariff of a carrier that counts on a day, or None."""
    return _counting((row for row in prices.tariffs if row.carrier_id == carrier.pk), day)
