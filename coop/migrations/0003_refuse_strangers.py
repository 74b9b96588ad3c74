"""A row points at rows of its own cooperative only, and stays with its cooperative."""

from django.db import migrations

from coop.migrations._refusals import Refusal, refuse_rows

OWNED = (
    "buyer",
    "carrier",
    "cartondesign",
    "charge",
    "dayweather",
    "fishprice",
    "material",
    "member",
    "route",
    "tariff",
    "timetable",
)
POINTS_AT = (
    ("timetable", "carrier"),
    ("timetable", "route"),
    ("tariff", "carrier"),
    ("tariff", "route"),
    ("charge", "route"),
    ("charge", "buyer"),
)


def owner(table, column):
    return f"(SELECT cooperative_id FROM coop_{table} WHERE id = NEW.{column})"


def on_writing(name, table, condition):
    return [Refusal(name, f"coop_{table}", event, condition) for event in ("INSERT", "UPDATE")]


REFUSALS = (
    *(
        Refusal(
            f"{table}_stays_with_its_cooperative",
            f"coop_{table}",
            "UPDATE OF cooperative_id",
            "NEW.cooperative_id <> OLD.cooperative_id",
        )
        for table in OWNED
    ),
    *(
        refusal
        for table, target in POINTS_AT
        for refusal in on_writing(
            f"{table}_{target}_of_its_cooperative",
            table,
            f"{owner(target, f'{target}_id')} <> NEW.cooperative_id",
        )
    ),
    *on_writing(
        "design_material_of_its_cooperative",
        "designmaterial",
        f"{owner('material', 'material_id')} <> {owner('cartondesign', 'design_id')}",
    ),
)


class Migration(migrations.Migration):
    dependencies = (("coop", "0002_refuse_overlaps"),)
    operations = (refuse_rows(REFUSALS),)
