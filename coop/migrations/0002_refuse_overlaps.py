from django.db import migrations

from coop.migrations._refusals import Overlap, refuse_overlaps

OVERLAPS = (
    Overlap("timetable_overlap", "coop_timetable", ("carrier_id", "route_id", "departs_at_local")),
    Overlap("tariff_overlap", "coop_tariff", ("carrier_id", "route_id")),
    Overlap("material_price_overlap", "coop_materialprice", ("material_id",)),
    Overlap("fish_price_overlap", "coop_fishprice", ("cooperative_id", "species_id")),
    Overlap(
        "charge_overlap",
        "coop_charge",
        ("cooperative_id", "route_id", "buyer_id", "kind", "name"),
        nullable=("route_id", "buyer_id"),
    ),
    Overlap(
        "receiving_hours_overlap",
        "coop_receivinghours",
        ("buyer_id", "weekday"),
        begin="opens_at",
        end="closes_at",
        is_hours=True,
    ),
)


class Migration(migrations.Migration):
    dependencies = (("coop", "0001_first_tables"),)
    operations = (refuse_overlaps(OVERLAPS),)
