"""Carton designs, buyers' limits and the terms of a cooperative count from a day on; a timetable is confirmed."""

import datetime

import django.db.models.deletion
from django.db import migrations, models

from coop.migrations._refusals import (
    Overlap,
    Refusal,
    refuse_overlaps,
    refuse_rows,
    with_triggers_aside,
)

# What was there before anything was dated has counted for as long as anybody may ask.
FROM = datetime.date(2000, 1, 1)
TERMS = (
    "confidence",
    "softened_share_limit",
    "closing_lead_minutes",
    "electricity_price_minor_per_kwh",
    "freezing_kwh_per_kg",
    "labour_price_minor_per_hour",
    "packing_minutes_per_carton",
)
LIMIT = ("limit_kind", "limit_value")
OVERLAPS = (
    Overlap("carton_design_overlap", "coop_cartondesign", ("cooperative_id", "slug")),
    Overlap("terms_overlap", "coop_terms", ("cooperative_id",)),
    Overlap("buyer_limit_overlap", "coop_buyerlimit", ("buyer_id",)),
)
# What of a design decides about the fish and its bill; a name may be spelt better at any time.
SIZES = (
    "slug",
    "outer_length_m",
    "outer_width_m",
    "outer_height_m",
    "board_thickness_m",
    "board_conductivity_w_m_k",
    "insulation_left_m",
    "insulation_right_m",
    "insulation_front_m",
    "insulation_back_m",
    "insulation_bottom_m",
    "insulation_top_m",
    "insulation_material",
    "insulation_density_kg_m3",
    "insulation_conductivity_cv",
    "insulation_specific_heat_j_kg_k",
    "stowage_density_kg_m3",
    "thin_bag_kg",
    "rope_wraps_length",
    "rope_wraps_width",
    "returnable",
    "expected_trips",
    "loss_chance",
    "valid_from",
)
MAY_BE_EMPTY = ("insulation_conductivity_w_m_k", "empty_mass_kg")


def used(design):
    return f"EXISTS (SELECT 1 FROM coop_parcel WHERE design_id = {design})"


def differ():
    changed = [f"NEW.{column} <> OLD.{column}" for column in (*SIZES, *MAY_BE_EMPTY)]
    emptied = [f"(NEW.{column} IS NULL) <> (OLD.{column} IS NULL)" for column in MAY_BE_EMPTY]
    return " OR ".join(changed + emptied)


REFUSALS = (
    Refusal(
        "terms_stays_with_its_cooperative",
        "coop_terms",
        "UPDATE OF cooperative_id",
        "NEW.cooperative_id <> OLD.cooperative_id",
    ),
    Refusal(
        "carton_design_in_use_stays_as_it_is",
        "coop_cartondesign",
        "UPDATE",
        f"{used('OLD.id')} AND ({differ()})",
    ),
    *(
        Refusal(
            "design_material_in_use_stays_as_it_is",
            "coop_designmaterial",
            event,
            " OR ".join(used(f"{row}.design_id") for row in rows),
        )
        for event, rows in (("INSERT", ["NEW"]), ("UPDATE", ["NEW", "OLD"]), ("DELETE", ["OLD"]))
    ),
)


def read_of(apps, name, columns):
    return apps.get_model("coop", name).objects.values("pk", "figures", "source", *columns)


def move_out(apps, _schema_editor):
    """Terms out of each cooperative and a limit out of each buyer; nobody has confirmed the terms yet."""
    terms, limits = (apps.get_model("coop", name) for name in ("Terms", "BuyerLimit"))
    for row in read_of(apps, "Cooperative", TERMS):
        terms.objects.create(cooperative_id=row.pop("pk"), valid_from=FROM, confirmed_on=FROM, **row)
    for row in read_of(apps, "Buyer", LIMIT):
        limits.objects.create(buyer_id=row.pop("pk"), valid_from=FROM, **row)


def move_back(apps, _schema_editor):
    """What counts last is what a cooperative and a buyer have again; who has none takes what is usual."""
    usual = dict(zip(TERMS, (0.95, 0.05, 30, 0, 0.38, 0, 30), strict=True))
    apps.get_model("coop", "Cooperative").objects.update(**usual)
    apps.get_model("coop", "Buyer").objects.update(limit_kind="softened_share", limit_value=0.05)
    for name, owner, columns in (("Terms", "cooperative", TERMS), ("BuyerLimit", "buyer", LIMIT)):
        for row in apps.get_model("coop", name).objects.order_by("valid_from"):
            figures = {column: getattr(row, column) for column in columns}
            whole = apps.get_model("coop", owner)
            whole.objects.filter(pk=getattr(row, f"{owner}_id")).update(**figures)


def identity():
    return models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")


def figured():
    return [
        ("figures", models.CharField(default="estimated", max_length=10)),
        ("source", models.CharField(blank=True, max_length=300)),
        ("valid_from", models.DateField()),
        ("valid_until", models.DateField(blank=True, null=True)),
    ]


def within(table, **spans):
    return [
        models.CheckConstraint(
            condition=models.Q((f"{column}__gte", low), (f"{column}__lte", high)),
            name=f"{table}_{column}_range",
        )
        for column, (low, high) in spans.items()
    ]


def ends_after_it_begins(table):
    return models.CheckConstraint(
        condition=models.Q(
            ("valid_until__isnull", True), ("valid_until__gt", models.F("valid_from")), _connector="OR"
        ),
        name=f"{table}_ends_after_it_begins",
        violation_error_message="It must end after it begins.",
    )


def sourced_and_dated(table):
    return [
        models.CheckConstraint(
            condition=models.Q(("figures__in", ["read", "estimated", "invented"])),
            name=f"{table}_figures_known",
        ),
        models.CheckConstraint(
            condition=models.Q(
                models.Q(("figures", "read"), _negated=True),
                models.Q(("source", ""), _negated=True),
                _connector="OR",
            ),
            name=f"{table}_read_names_its_source",
            violation_error_message="A figure that was read names its source.",
        ),
        ends_after_it_begins(table),
    ]


MONEY = (0, 1_000_000_000_000)
SOFTENED_SHARE = models.Q(
    ("limit_kind", "softened_share"), ("limit_value__gte", 0.001), ("limit_value__lte", 0.5)
)
TEMPERATURE = models.Q(
    models.Q(("limit_kind", "softened_share"), _negated=True),
    ("limit_value__gte", -40),
    ("limit_value__lte", -0.5),
)
MAKE_TERMS = migrations.CreateModel(
    name="Terms",
    fields=[
        ("id", identity()),
        *figured(),
        ("confidence", models.FloatField(default=0.95)),
        ("softened_share_limit", models.FloatField(default=0.05)),
        ("closing_lead_minutes", models.FloatField()),
        ("electricity_price_minor_per_kwh", models.BigIntegerField()),
        ("freezing_kwh_per_kg", models.FloatField(default=0.38)),
        ("labour_price_minor_per_hour", models.BigIntegerField()),
        ("packing_minutes_per_carton", models.FloatField()),
        ("stale_after_days", models.IntegerField(default=30)),
        ("confirmed_on", models.DateField()),
        (
            "cooperative",
            models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="%(class)ss",
                to="coop.cooperative",
            ),
        ),
    ],
    options={
        "verbose_name": "terms",
        "verbose_name_plural": "terms",
        "ordering": ("cooperative", "-valid_from"),
        "constraints": [
            *within(
                "terms",
                confidence=(0.5, 0.999),
                softened_share_limit=(0.001, 0.5),
                closing_lead_minutes=(0, 1440),
                electricity_price_minor_per_kwh=MONEY,
                freezing_kwh_per_kg=(0, 5),
                labour_price_minor_per_hour=MONEY,
                packing_minutes_per_carton=(0, 480),
                stale_after_days=(1, 365),
            ),
            *sourced_and_dated("terms"),
        ],
    },
)
MAKE_LIMITS = migrations.CreateModel(
    name="BuyerLimit",
    fields=[
        ("id", identity()),
        *figured(),
        ("limit_kind", models.CharField(default="softened_share", max_length=16)),
        ("limit_value", models.FloatField()),
        (
            "buyer",
            models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="limits", to="coop.buyer"
            ),
        ),
    ],
    options={
        "verbose_name": "limit of a buyer",
        "verbose_name_plural": "limits of buyers",
        "ordering": ("buyer", "-valid_from"),
        "constraints": [
            models.CheckConstraint(
                condition=models.Q(("limit_kind__in", ["softened_share", "core_c", "mean_c", "warmest_c"])),
                name="buyer_limit_limit_kind_known",
            ),
            models.CheckConstraint(
                condition=models.Q(SOFTENED_SHARE, TEMPERATURE, _connector="OR"),
                name="buyer_limit_fits_its_kind",
                violation_error_message=(
                    "A softened share lies between 0.001 and 0.5, a temperature between -40 and -0.5 °C."
                ),
            ),
            *sourced_and_dated("buyer_limit"),
        ],
    },
)


def may_be_empty(model, column, field):
    """So that the way back finds room before it is filled."""
    return migrations.AlterField(model_name=model, name=column, field=field(null=True))


def checks_gone(model, *names):
    return [migrations.RemoveConstraint(model_name=model, name=name) for name in names]


def columns_gone(model, *names):
    return [migrations.RemoveField(model_name=model, name=name) for name in names]


MOVE = (
    MAKE_TERMS,
    MAKE_LIMITS,
    *checks_gone("cooperative", *(f"cooperative_{column}_range" for column in TERMS)),
    *checks_gone("buyer", "buyer_limit_kind_known", "buyer_limit_fits_its_kind"),
    may_be_empty("cooperative", "closing_lead_minutes", models.FloatField),
    may_be_empty("cooperative", "electricity_price_minor_per_kwh", models.BigIntegerField),
    may_be_empty("cooperative", "labour_price_minor_per_hour", models.BigIntegerField),
    may_be_empty("cooperative", "packing_minutes_per_carton", models.FloatField),
    may_be_empty("buyer", "limit_value", models.FloatField),
    migrations.RunPython(move_out, move_back),
    *columns_gone("cooperative", *TERMS),
    *columns_gone("buyer", *LIMIT),
)
DATE_DESIGNS = (
    migrations.RemoveConstraint(model_name="cartondesign", name="carton_design_slug_once_in_a_cooperative"),
    migrations.AlterModelOptions(
        name="cartondesign",
        options={"ordering": ("name", "valid_from", "id"), "verbose_name": "carton design"},
    ),
    migrations.AddField(
        model_name="cartondesign",
        name="valid_from",
        field=models.DateField(default=FROM),
        preserve_default=False,
    ),
    migrations.AddField(
        model_name="cartondesign", name="valid_until", field=models.DateField(blank=True, null=True)
    ),
    migrations.AddConstraint(
        model_name="cartondesign",
        constraint=models.UniqueConstraint(
            fields=("cooperative", "slug", "valid_from"), name="carton_design_version_once_in_a_cooperative"
        ),
    ),
    migrations.AddConstraint(model_name="cartondesign", constraint=ends_after_it_begins("carton_design")),
)


class Migration(migrations.Migration):
    dependencies = (("coop", "0007_a_closed_parcel_is_called_off"),)
    operations = (
        *with_triggers_aside(
            *MOVE,
            *DATE_DESIGNS,
            migrations.AddField(
                model_name="timetable", name="confirmed_on", field=models.DateField(blank=True, null=True)
            ),
        ),
        refuse_overlaps(OVERLAPS),
        refuse_rows(REFUSALS),
    )
