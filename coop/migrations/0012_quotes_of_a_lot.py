"""A quote may be made from a lot: what was accepted of it is promised, and no carton and no other quote takes it.

The lot stays as it was weighed; what is promised stands in the accepted quotes whose supply names it.
"""

from importlib import import_module

import django.db.models.deletion
from django.db import migrations, models

from coop.migrations._refusals import Refusal, allow_rows, refuse_rows, with_triggers_aside

BEFORE = import_module("coop.migrations.0006_refuse_changes_of_what_is_closed")
SAME_KG, differ, parts = BEFORE.SAME_KG, BEFORE.differ, BEFORE.parts
ANEW = ("part_within_its_lot", "part_not_split_without_consent")
# The columns of a lot that stay as they are while some of its fish is spoken for.
OF_THE_FISH = (
    "uuid",
    "member_id",
    "route_id",
    "buyer_id",
    "species_id",
    "mass_kg",
    "frozen_since",
    "ready_at",
    "start_temperature_c",
    "may_be_split",
)


def on(event, name, table, condition):
    return Refusal(name, f"coop_{table}", event, condition)


def promised(lot, besides=""):
    """Kilograms of a lot that buyers have accepted by quotes made from it."""
    return (
        "(SELECT COALESCE(SUM(q.accepted_kg), 0) FROM coop_quote AS q JOIN coop_supply AS s ON s.id = q.supply_id"
        f" WHERE s.lot_id = {lot} AND q.state = 'accepted'{besides})"
    )


def with_promises(refusal):
    """The same refusal of a part, of what nobody was promised of its lot."""
    mass = BEFORE.of_lot("mass_kg")
    left = f"({mass} - {promised('NEW.lot_id')})"
    return refusal._replace(condition=refusal.condition.replace(mass, left))


FORMER = tuple(refusal for refusal in BEFORE.REFUSALS if refusal.name in ANEW)
OWN_LOT = "(SELECT lot_id FROM coop_supply WHERE id = NEW.supply_id)"
OF_OWN_LOT = f"(SELECT {{0}} FROM coop_lot WHERE id = {OWN_LOT})"


def too_much(besides=""):
    """Whether what is accepted of a lot is more than neither lies in a carton nor is promised already."""
    there = f"{promised(OWN_LOT, besides)} + {parts(f'lot_id = {OWN_LOT}')}"
    return (
        f"NEW.state = 'accepted' AND {OWN_LOT} IS NOT NULL"
        f" AND NEW.accepted_kg + {there} > {OF_OWN_LOT.format('mass_kg')} + {SAME_KG}"
    )


REFUSALS = (
    *(
        on(
            event,
            "supply_lot_of_its_cooperative",
            "supply",
            "(SELECT cooperative_id FROM coop_lot WHERE id = NEW.lot_id) <> NEW.cooperative_id",
        )
        for event in ("INSERT", "UPDATE")
    ),
    on(
        "INSERT",
        "supply_lot_of_its_member",
        "supply",
        "(SELECT member_id FROM coop_lot WHERE id = NEW.lot_id) <> NEW.member_id",
    ),
    on("INSERT", "quote_within_its_lot", "quote", too_much()),
    on("UPDATE", "quote_within_its_lot", "quote", too_much(" AND q.id <> OLD.id")),
    on(
        "UPDATE",
        "quote_of_a_withdrawn_lot",
        "quote",
        "NEW.state = 'accepted' AND OLD.state <> 'accepted'"
        f" AND {OF_OWN_LOT.format('withdrawn_at')} IS NOT NULL",
    ),
    on(
        "UPDATE",
        "lot_promised_stays_as_it_is",
        "lot",
        f"{promised('OLD.id')} > 0 AND {differ(*OF_THE_FISH, nullable=['deliver_by'])}",
    ),
    *map(with_promises, FORMER),
)


class Migration(migrations.Migration):
    dependencies = [
        ("coop", "0011_calendar_links"),
    ]

    operations = [
        *with_triggers_aside(
            migrations.AddField(
                model_name="supply",
                name="lot",
                field=models.ForeignKey(
                    blank=True,
                    null=True,
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="supplies",
                    to="coop.lot",
                ),
            ),
        ),
        allow_rows(FORMER),
        refuse_rows(REFUSALS),
    ]
