"""Bills from rows. Sums by hand use the factories' round figures, and are written beside the value."""

from datetime import date

import pytest

from coop.models import CartonDesign
from coop.selectors.cost import bill_of, is_lasting, prices_for, tariff_counting
from tests.factories.buyers import BuyerFactory
from tests.factories.charges import ChargeFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.routes import RouteFactory
from tests.factories.scene import returnable_box, trade
from tests.factories.tariffs import TariffFactory, TariffRuleFactory, TariffStepFactory
from tests.selectors.queries import questions

pytestmark = pytest.mark.django_db

MONDAY = date(2026, 3, 2)
INSIDE = 0.99 * 0.69 * 0.69
"""m³ within the board of the common carton."""
GROSS_KG = 80 + (INSIDE - 80 / 530) * 150 + (0.49 - INSIDE) * 150
"""Fish, shavings of 150 kg/m³ in what the fish leaves, and board that weighs as much."""


@pytest.fixture
def shore():
    return trade(CooperativeFactory())


def bill(shore, *, mass_kg=80.0, cartons=1, day=MONDAY, design=None, **terms):
    prices = prices_for(shore.cooperative, shore.route, shore.buyer, shore.species)
    return bill_of(
        prices,
        carrier=shore.carrier,
        design=design or shore.design,
        mass_kg=mass_kg,
        cartons=cartons,
        day=day,
        **terms,
    )


def lines(found, code):
    return [line for line in found.cost.lines if line.code == code]


def fare(shore, **rule):
    """The fare lines of a bill under one rule alone."""
    shore.tariff.rules.all().delete()
    steps = rule.pop("steps", ())
    row = TariffRuleFactory(tariff=shore.tariff, position=1, **rule)
    for from_kg, amount in steps:
        TariffStepFactory(rule=row, from_kg=from_kg, amount_minor=amount)
    found = bill(shore)
    return [line for line in found.cost.lines if line.code.startswith("fare")]


def test_the_lines_sum_to_the_total_and_each_is_quantity_times_rate(shore):
    found = bill(shore, with_fish=True, softened_share=0.05).cost
    assert sum(line.amount_minor for line in found.lines) == found.total
    for line in found.lines:
        assert abs(line.quantity * line.rate_minor - line.amount_minor) <= 0.5


def test_a_bill_is_what_can_be_added_up_by_hand(shore):
    amounts = {(line.code, line.name): line.amount_minor for line in bill(shore, with_fish=True).cost.lines}
    levy = shore.cooperative.charges.get()
    assert amounts == {
        ("fish", ""): 80 * 3000,
        ("freezing_energy", ""): 7904,  # 80 kg × 0.38 kWh × 260
        ("material", "Used carton"): 2500,
        # 48.06 kg of shavings, 8 kg to a sack of 0.1 m³ of loose ones (80 kg/m³): 7 sacks
        ("material", "Shavings"): 7 * 800,
        ("material", "Thin bag"): 40 * 40,  # of 2 kg
        ("labour", ""): 1458,  # 35 minutes at 2500 an hour
        ("fare_per_carton", ""): 30_000,
        ("levy", levy.name): 80 * 50,
    }


@pytest.mark.parametrize(
    ("rule", "amount"),
    [
        ({"kind": "per_carton", "amount_minor": 30_000}, 30_000),
        ({"kind": "per_kilogram", "amount_minor": 100}, GROSS_KG * 100),
        ({"kind": "per_kilogram", "amount_minor": 100, "minimum_kg": 200}, 20_000),
        ({"kind": "per_kilogram", "amount_minor": 100, "minimum_minor": 50_000}, 50_000),
        ({"kind": "per_volume", "amount_minor": 32_000}, 0.49 * 32_000),
        # 490 000 cm³ / 6000 = 81.7 kg, lighter than the scale says; 490 000 / 3000 = 163.3, begun: 164
        (
            {"kind": "per_volumetric_kilogram", "amount_minor": 90, "volumetric_divisor_cm3_per_kg": 6000},
            131 * 90,
        ),
        (
            {"kind": "per_volumetric_kilogram", "amount_minor": 90, "volumetric_divisor_cm3_per_kg": 3000},
            164 * 90,
        ),
        ({"kind": "per_seat", "amount_minor": 45_000, "seats_per_carton": 2}, 90_000),
        ({"kind": "by_step", "amount_minor": 0, "steps": ((0, 9000), (100, 21_000), (150, 40_000))}, 21_000),
        (
            {
                "kind": "by_step",
                "amount_minor": 0,
                "steps_per_kilogram": True,
                "steps": ((0, 200), (100, 150)),
            },
            GROSS_KG * 150,
        ),
    ],
    ids=lambda part: part["kind"] if isinstance(part, dict) else "",
)
def test_every_kind_of_fare_is_what_its_rule_says(shore, rule, amount):
    [line] = fare(shore, **rule)
    assert line.code == f"fare_{rule['kind']}"
    # Gross mass is rounded to grams, and each line once.
    assert line.amount_minor == pytest.approx(amount, abs=1)
    assert line.priced_on == shore.tariff.confirmed_on


def test_a_share_on_top_counts_in_its_months_alone(shore):
    share = {"kind": "surcharge", "amount_minor": 0, "surcharge_share": 0.1}
    TariffRuleFactory(tariff=shore.tariff, position=2, months=[12, 1], **share)
    assert lines(bill(shore), "fare_surcharge") == []
    [line] = lines(bill(shore, day=date(2026, 12, 5)), "fare_surcharge")
    assert line.amount_minor == 3000


def test_the_return_of_empties_is_paid_for_those_that_are_not_lost(shore):
    TariffRuleFactory(tariff=shore.tariff, position=2, kind="return_of_empty", amount_minor=5000)
    assert lines(bill(shore), "return_of_empty") == []
    box = returnable_box(shore.cooperative, loss_chance=0.02)
    [line] = lines(bill(shore, design=box), "return_of_empty")
    assert line.amount_minor == 0.98 * 5000


def test_what_comes_back_is_charged_by_its_share_of_a_trip(shore):
    box = returnable_box(shore.cooperative, expected_trips=50, loss_chance=0.0)
    prices = {line.name: line.amount_minor for line in lines(bill(shore, design=box), "material")}
    assert prices == {"Box": 650_000 // 50, "Thin bag": 40 * 40}
    losing = returnable_box(shore.cooperative, slug="lost", expected_trips=50, loss_chance=0.5)
    # Half are lost on each trip: two trips in the mean.
    charged = {line.name: line.amount_minor for line in lines(bill(shore, design=losing), "material")}
    assert charged["Box"] == 325_000


def test_rope_of_a_carton_that_stays_does_not_last(shore):
    row = shore.design.materials.first()
    row.returns_with_box = True
    assert not is_lasting(row)


def test_what_is_bought_whole_is_bought_whole_for_the_consignment(shore):
    # 45 kg in each of two cartons: 22.5 bags of 2 kg, 23 for each.
    [bags] = [line for line in lines(bill(shore, mass_kg=90.0, cartons=2), "material") if "bag" in line.name]
    assert bags.quantity == 46


def test_what_softens_is_charged_with_its_lower_price(shore):
    [line] = lines(bill(shore, softened_share=0.1), "softening")
    # 8 kg less 2.65 % of drip, at 5500 − 2500
    assert line.amount_minor == pytest.approx(8 * 0.9735 * 3000, abs=0.5)


def test_without_a_price_softened_fish_counts_as_lost(shore):
    shore.fish_price.delete()
    found = bill(shore, softened_share=0.1)
    assert (found.missing, float(found.cost.sound_mass)) == ((), 72.0)
    assert lines(found, "softening") == []


@pytest.mark.parametrize(
    ("forget", "missing"),
    [
        (lambda shore: shore.tariff.delete(), "fare of"),
        (lambda shore: shore.tariff.rules.all().delete(), "is not finished"),
        (lambda shore: shore.fish_price.delete(), "price of the fish"),
        (
            lambda shore: shore.design.materials.get(use="insulation").material.prices.all().delete(),
            "price of Shavings",
        ),
    ],
)
def test_a_missing_price_is_named_and_there_is_no_sum(shore, forget, missing):
    forget(shore)
    shore.design = CartonDesign.objects.get(pk=shore.design.pk)
    found = bill(shore, with_fish=True)
    assert found.cost is None
    assert len(found.missing) == 1
    assert missing in found.missing[0]


def test_every_missing_price_is_named_at_once(shore):
    shore.tariff.delete()
    shore.fish_price.delete()
    assert len(bill(shore, with_fish=True).missing) == 2


@pytest.mark.parametrize(
    "rule",
    [
        {"kind": "by_step", "amount_minor": 0},
        {"kind": "by_step", "amount_minor": 0, "steps": ((10, 9000),)},
        {"kind": "surcharge", "amount_minor": 0, "surcharge_share": 0.1},
    ],
)
def test_a_tariff_that_is_not_finished_is_missing_and_no_fault(shore, rule):
    shore.tariff.rules.all().delete()
    steps = rule.pop("steps", ())
    row = TariffRuleFactory(tariff=shore.tariff, position=1, **rule)
    for from_kg, amount in steps:
        TariffStepFactory(rule=row, from_kg=from_kg, amount_minor=amount)
    found = bill(shore)
    assert found.cost is None
    assert "is not finished" in found.missing[0]


def test_a_unit_that_geometry_does_not_tell_is_missing(shore):
    row = shore.design.materials.get(use="thin_bag")
    row.material.unit = "kg"
    row.material.save()
    shore.design = CartonDesign.objects.get(pk=shore.design.pk)
    assert bill(shore).missing == ("quantity of Thin bag",)


def test_prices_and_fares_are_those_of_the_day(shore):
    shore.tariff.valid_until = MONDAY
    shore.tariff.save()
    later = TariffFactory(
        cooperative=shore.cooperative, carrier=shore.carrier, route=shore.route, valid_from=MONDAY
    )
    TariffRuleFactory(tariff=later, position=1, amount_minor=35_000)
    day_before = date(2026, 3, 1)
    for day, amount in ((day_before, 30_000), (MONDAY, 35_000)):
        assert lines(bill(shore, day=day), "fare_per_carton")[0].amount_minor == amount
    prices = prices_for(shore.cooperative, shore.route, shore.buyer, shore.species)
    assert tariff_counting(prices, shore.carrier, day_before) == shore.tariff
    assert tariff_counting(prices, shore.carrier, date(2024, 1, 1)) is None


def test_charges_of_other_routes_and_buyers_are_not_paid(shore):
    own = {"cooperative": shore.cooperative, "kind": "handling", "basis": "consignment", "amount_minor": 7}
    ChargeFactory(**own, route=RouteFactory(cooperative=shore.cooperative))
    ChargeFactory(**own, buyer=BuyerFactory(cooperative=shore.cooperative))
    ChargeFactory(**own, valid_until=MONDAY)
    assert lines(bill(shore), "handling") == []
    ChargeFactory(**own, route=shore.route, buyer=shore.buyer)
    assert [line.amount_minor for line in lines(bill(shore), "handling")] == [7]


def test_nothing_of_strangers_is_paid(shore):
    before = bill(shore).cost.total
    stranger = CooperativeFactory()
    trade(stranger)
    FishPriceFactory(cooperative=stranger, species=shore.species, bought_minor_per_kg=1)
    assert bill(shore).cost.total == before


def test_a_bill_asks_the_database_nothing_more(shore):
    prices = prices_for(shore.cooperative, shore.route, shore.buyer, shore.species)
    design = CartonDesign.objects.prefetch_related("materials__material__prices").get(pk=shore.design.pk)

    def read():
        return bill_of(
            prices, carrier=shore.carrier, design=design, mass_kg=80.0, cartons=1, day=MONDAY, with_fish=True
        )

    assert questions(read) == 0
