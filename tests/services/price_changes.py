"""A trade whose prices are changed again and again, by every service that changes one."""

from datetime import UTC, datetime, timedelta
from functools import partial

from django.apps import apps
from django.db import transaction

from coop.errors import Failure
from coop.models import CartonDesign, Charge, FishPrice, MaterialPrice, Tariff, Terms
from coop.services import changes
from coop.services.carton_designs import change_carton_design
from coop.services.charges import change_charge
from coop.services.fish_prices import change_fish_price
from coop.services.material_prices import change_material_price
from coop.services.tariffs import change_tariff
from coop.services.terms import change_terms
from tests.factories.members import MemberFactory

START = datetime(2026, 3, 2, 6, tzinfo=UTC)
DATED = (Tariff, FishPrice, MaterialPrice, Charge, CartonDesign, Terms)


def begun(trade):
    """A trade with a manager; what it has was known from long before the start."""
    trade.manager = MemberFactory(cooperative=trade.cooperative, role="manager")
    for model in apps.get_app_config("coop").get_models():
        if hasattr(model, "instance_type"):
            model.objects.of(trade.cooperative).update(history_date=START - timedelta(days=900))
    return trade


def changed_at_random(trade, chance, now):
    """One change, confirmation, end or withdrawal; what a service refuses changes nothing."""
    do = chance.choice([*CHANGE, *CHANGE, *CHANGE, confirmed, ended, withdrawn])
    try:
        with transaction.atomic():
            do(trade, chance, now)
    except Failure:
        return


def days(chance, now):
    """From some day on, now and then only until another."""
    begins = now.date() + timedelta(days=chance.choice([0, 0, 1, 1, 2, 5, 30]))
    until = begins + timedelta(days=chance.randint(1, 40)) if chance.random() < 0.1 else None
    return {"valid_from": begins, "valid_until": until, "now": now}


def tariff(trade, chance, now):
    rules = [chance.choice(RULES)(chance) for _ in range(chance.randint(1, 3))]
    way = {"carrier": trade.carrier, "route": trade.route}
    change_tariff(by=trade.manager, **way, rules=rules, **days(chance, now))


def fish_price(trade, chance, now):
    soft, more = chance.randint(0, 3000), chance.randint(0, 4000)
    prices = {"bought_minor_per_kg": chance.randint(0, 5000), "sold_minor_per_kg": soft + more}
    change_fish_price(
        by=trade.manager, species=trade.species, soft_minor_per_kg=soft, **prices, **days(chance, now)
    )


def material_price(trade, chance, now):
    row = chance.choice([row.material for row in trade.design.materials.order_by("pk")])
    change_material_price(
        by=trade.manager, material=row, amount_minor=chance.randint(0, 5000), **days(chance, now)
    )


def charge(trade, chance, now):
    where = {"route": chance.choice([None, trade.route]), "buyer": chance.choice([None, trade.buyer])}
    what = {"kind": "levy", "name": chance.choice(["Gate", "Scale"])}
    basis = chance.choice(["consignment", "carton", "kilogram"])
    amount = {"basis": basis, "amount_minor": chance.randint(0, 900)}
    change_charge(by=trade.manager, **where, **what, **amount, **days(chance, now))


def terms(trade, chance, now):
    figure = chance.choice(["electricity_price_minor_per_kwh", "labour_price_minor_per_hour"])
    change_terms(by=trade.manager, **{figure: chance.randint(0, 4000)}, **days(chance, now))


def design(trade, chance, now):
    rows = CartonDesign.objects.of(trade.cooperative).filter(slug=trade.design.slug)
    figures = {"insulation_density_kg_m3": float(chance.randint(100, 180))}
    materials = None
    if chance.random() < 0.5:
        kept = [
            {"material": row.material, "use": row.use, "quantity": row.quantity}
            for row in trade.design.materials.order_by("pk")
        ]
        materials = kept[: chance.randint(1, len(kept))]
    change_carton_design(
        by=trade.manager, design=rows.first(), materials=materials, **figures, **days(chance, now)
    )


def some_row(trade, chance):
    model = chance.choice(DATED)
    return chance.choice(list(model.objects.of(trade.cooperative).order_by("pk")))


def confirmed(trade, chance, now):
    changes.confirm(some_row(trade, chance), trade.manager, now=now)


def ended(trade, chance, now):
    until = now.date() + timedelta(days=chance.randint(0, 20))
    changes.end(some_row(trade, chance), until, trade.manager, now=now)


def withdrawn(trade, chance, now):
    changes.withdraw(some_row(trade, chance), trade.manager, now=now)


def by_step(chance):
    starts = [0, *sorted(chance.sample(range(5, 100), chance.randint(0, 3)))]
    return {
        "kind": "by_step",
        "steps": [{"from_kg": float(at), "amount_minor": chance.randint(0, 50_000)} for at in starts],
    }


def plain(kind, chance, **more):
    return {"kind": kind, "amount_minor": chance.randint(0, 40_000), **more}


RULES = (
    partial(plain, "per_carton"),
    partial(plain, "per_kilogram", minimum_kg=20.0),
    partial(plain, "per_seat", seats_per_carton=2),
    by_step,
    lambda chance: {"kind": "surcharge", "surcharge_share": chance.randint(-5, 20) / 100},
)
CHANGE = (tariff, fish_price, material_price, charge, terms, design)
