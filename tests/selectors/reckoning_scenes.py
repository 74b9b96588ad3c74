"""Invented trades in which every kind of fare, charge, carton and material occurs, drawn from a seed."""

from datetime import date

from coop.models.cartons import FACES, MaterialUse
from tests.factories.cartons import CartonDesignFactory, DesignMaterialFactory
from tests.factories.charges import ChargeFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.materials import MaterialFactory, MaterialPriceFactory, SackFactory
from tests.factories.scene import trade
from tests.factories.tariffs import TariffRuleFactory, TariffStepFactory

MONDAY = date(2026, 3, 2)
KINDS = ("per_carton", "per_kilogram", "by_step", "per_volume", "per_volumetric_kilogram", "per_seat")
SPECIAL = {
    "per_seat": lambda draw: {"seats_per_carton": draw.randint(1, 3)},
    "per_volumetric_kilogram": lambda draw: {
        "volumetric_divisor_cm3_per_kg": draw.choice([5000.0, 6000.0, 4999.5])
    },
}


def scene(draw):
    """A trade whose carton design, prices, fares and charges are drawn."""
    made = trade(CooperativeFactory())
    made.design = design_of(draw, made.cooperative)
    fares_of(draw, made)
    for number in range(draw.randint(0, 4)):
        ChargeFactory(
            cooperative=made.cooperative,
            kind=draw.choice(["handling", "levy", "papers", "receiver", "freezing_energy"]),
            name=f"Charge {number}",
            basis=draw.choice(["consignment", "carton", "kilogram"]),
            amount_minor=draw.randint(1, 5000),
        )
    made.cooperative.charges.filter(name__startswith="Levy").update(name="Levy")
    made.carrier.carton_places = draw.choice([1, 4, 6])
    made.carrier.save()
    price = made.fish_price
    price.soft_minor_per_kg = draw.choice([0, 1, 2499])
    price.save()
    if draw.random() < 0.2:
        price.delete()
    return made


def design_of(draw, cooperative):
    insulation = {f"insulation_{face}_m": draw.choice([0.05, 0.08, 0.1, 0.127]) for face in FACES}
    lasts = draw.random() < 0.4
    design = CartonDesignFactory(
        cooperative=cooperative,
        outer_length_m=draw.choice([0.7, 0.93, 1.0]),
        outer_width_m=draw.choice([0.55, 0.7]),
        outer_height_m=draw.choice([0.5, 0.613, 0.7]),
        board_thickness_m=draw.choice([0.003, 0.005]),
        insulation_density_kg_m3=draw.choice([110.0, 150.0, 163.5]),
        stowage_density_kg_m3=draw.choice([480.0, 530.0, 551.7]),
        thin_bag_kg=draw.choice([0.7, 1.0, 2.0, 2.5]),
        returnable=lasts,
        expected_trips=draw.choice([3, 60]) if lasts else 1,
        loss_chance=draw.choice([0.0, 0.02, 0.1]) if lasts else 0.0,
        empty_mass_kg=draw.choice([None, 14.0, 9.125]),
        **insulation,
    )
    uses = [
        (SackFactory, MaterialUse.INSULATION, {"sack_volume_m3": draw.choice([0.1, 0.07])}, None),
        (MaterialFactory, MaterialUse.THIN_BAG, {}, None),
        (MaterialFactory, MaterialUse.INSULATION, {"unit": "kg"}, None),
        (MaterialFactory, MaterialUse.INSULATION, {"unit": "m3"}, None),
        (MaterialFactory, MaterialUse.ROPE, {"unit": "m"}, None),
        (MaterialFactory, MaterialUse.BOARD, {"unit": "m2"}, None),
        (MaterialFactory, MaterialUse.OTHER, {"unit": "kg"}, draw.choice([0.1, 1.37])),
        (MaterialFactory, MaterialUse.BOX if lasts else MaterialUse.CARTON, {}, None),
    ]
    for number, (factory, use, options, quantity) in enumerate(uses):
        if draw.random() < 0.75:
            material = factory(cooperative=cooperative, name=f"Material {number}", **options)
            MaterialPriceFactory(material=material, amount_minor=draw.randint(1, 90_000))
            back = lasts and draw.random() < 0.5
            DesignMaterialFactory(
                design=design, material=material, use=use, quantity=quantity, returns_with_box=back
            )
    return design


def fares_of(draw, made):
    made.tariff.rules.all().delete()
    kinds = draw.sample(KINDS, draw.randint(1, 3))
    if draw.random() < 0.5:
        kinds.append("return_of_empty")
    for position, kind in enumerate(kinds, start=1):
        options = SPECIAL.get(kind, lambda _draw: {})(draw)
        if kind in ("per_kilogram", "per_volumetric_kilogram"):
            options["minimum_kg"] = draw.choice([0.0, 30.0, 72.25])
        if kind == "by_step":
            options["steps_per_kilogram"] = draw.random() < 0.5
        amount = 0 if kind == "by_step" else draw.randint(1, 40_000)
        least = draw.choice([0, 0, 25_000])
        rule = TariffRuleFactory(
            tariff=made.tariff,
            position=position,
            kind=kind,
            amount_minor=amount,
            minimum_minor=least,
            **options,
        )
        for from_kg in (0.0, 20.0, 62.5, 150.0) if kind == "by_step" else ():
            TariffStepFactory(rule=rule, from_kg=from_kg, amount_minor=draw.randint(1, 40_000))
    for position in range(5, 5 + draw.randint(0, 2)):
        TariffRuleFactory(
            tariff=made.tariff,
            position=position,
            kind="surcharge",
            amount_minor=0,
            surcharge_share=draw.choice([0.1, 0.055, -0.2]),
            months=draw.choice([[], [3], [7]]),
        )
