"""Every change of a dated figure is kept; what is there already gets its first record."""

from datetime import datetime, time
from zoneinfo import ZoneInfo

import django.db.models.deletion
import simple_history.models
from django.db import migrations, models
from django.utils import timezone

# Of each table that is kept: the way to its cooperative, and to the day from which a row counts.
KEPT = {
    "BuyerLimit": ("buyer__cooperative", "valid_from"),
    "CartonDesign": ("cooperative", "valid_from"),
    "Charge": ("cooperative", "valid_from"),
    "DesignMaterial": ("design__cooperative", "design__valid_from"),
    "FishPrice": ("cooperative", "valid_from"),
    "MaterialPrice": ("material__cooperative", "valid_from"),
    "Tariff": ("cooperative", "valid_from"),
    "TariffRule": ("tariff__cooperative", "tariff__valid_from"),
    "TariffStep": ("rule__tariff__cooperative", "rule__tariff__valid_from"),
    "Terms": ("cooperative", "valid_from"),
    "Timetable": ("cooperative", "valid_from"),
}


def first_records(apps, _schema_editor):
    """Dated when a row began to count, so that past costs can be worked out; or now, if that is earlier."""
    now = timezone.now()
    for name, (owner, begins) in KEPT.items():
        model, kept = apps.get_model("coop", name), apps.get_model("coop", f"Historical{name}")
        columns = [field.attname for field in model._meta.concrete_fields]
        records = []
        for row in model.objects.values(*columns, f"{owner}__time_zone", begins).order_by("pk"):
            midnight = datetime.combine(row[begins], time.min, ZoneInfo(row[f"{owner}__time_zone"]))
            values = {column: row[column] for column in columns}
            records.append(kept(history_date=min(midnight, now), history_type="+", **values))
        kept.objects.bulk_create(records, batch_size=500)


class Migration(migrations.Migration):
    dependencies = [("coop", "0008_dated_designs_and_terms")]

    operations = [
        migrations.CreateModel(
            name="HistoricalBuyerLimit",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("limit_kind", models.CharField(default="softened_share", max_length=16)),
                ("limit_value", models.FloatField()),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "buyer",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.buyer",
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical limit of a buyer",
                "verbose_name_plural": "historical limits of buyers",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalCartonDesign",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("slug", models.SlugField()),
                ("name", models.CharField(max_length=120)),
                ("outer_length_m", models.FloatField()),
                ("outer_width_m", models.FloatField()),
                ("outer_height_m", models.FloatField()),
                ("board_thickness_m", models.FloatField()),
                ("board_conductivity_w_m_k", models.FloatField(default=0.08)),
                ("insulation_left_m", models.FloatField(default=0.1)),
                ("insulation_right_m", models.FloatField(default=0.1)),
                ("insulation_front_m", models.FloatField(default=0.1)),
                ("insulation_back_m", models.FloatField(default=0.1)),
                ("insulation_bottom_m", models.FloatField(default=0.1)),
                ("insulation_top_m", models.FloatField(default=0.1)),
                ("insulation_material", models.CharField(default="shavings", max_length=16)),
                ("insulation_density_kg_m3", models.FloatField()),
                ("insulation_conductivity_w_m_k", models.FloatField(blank=True, null=True)),
                ("insulation_conductivity_cv", models.FloatField(default=0.25)),
                ("insulation_specific_heat_j_kg_k", models.FloatField(default=1600)),
                ("measured_on", models.DateField(blank=True, null=True)),
                ("stowage_density_kg_m3", models.FloatField()),
                ("thin_bag_kg", models.FloatField(default=2)),
                ("rope_wraps_length", models.IntegerField(default=2)),
                ("rope_wraps_width", models.IntegerField(default=3)),
                ("returnable", models.BooleanField(default=False)),
                ("expected_trips", models.IntegerField(default=1)),
                ("loss_chance", models.FloatField(default=0)),
                ("empty_mass_kg", models.FloatField(blank=True, null=True)),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical carton design",
                "verbose_name_plural": "historical carton designs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalCharge",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("kind", models.CharField(max_length=16)),
                ("name", models.CharField(max_length=120)),
                ("basis", models.CharField(max_length=12)),
                ("amount_minor", models.BigIntegerField()),
                ("confirmed_on", models.DateField()),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "buyer",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.buyer",
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.route",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical charge",
                "verbose_name_plural": "historical charges",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalDesignMaterial",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("use", models.CharField(max_length=12)),
                ("quantity", models.FloatField(blank=True, null=True)),
                ("returns_with_box", models.BooleanField(default=False)),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "design",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.cartondesign",
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.material",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical material of a carton",
                "verbose_name_plural": "historical materials of a carton",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalFishPrice",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("bought_minor_per_kg", models.BigIntegerField()),
                ("sold_minor_per_kg", models.BigIntegerField()),
                ("soft_minor_per_kg", models.BigIntegerField()),
                ("confirmed_on", models.DateField()),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
                (
                    "species",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.species",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical price of fish",
                "verbose_name_plural": "historical prices of fish",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalMaterialPrice",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("amount_minor", models.BigIntegerField()),
                ("confirmed_on", models.DateField()),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.material",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical price of a material",
                "verbose_name_plural": "historical prices of materials",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalTariff",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("confirmed_on", models.DateField()),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "carrier",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.carrier",
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.route",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical tariff",
                "verbose_name_plural": "historical tariffs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalTariffRule",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("position", models.IntegerField()),
                ("kind", models.CharField(max_length=24)),
                ("amount_minor", models.BigIntegerField(default=0)),
                ("minimum_minor", models.BigIntegerField(default=0)),
                ("minimum_kg", models.FloatField(default=0)),
                ("seats_per_carton", models.IntegerField(blank=True, null=True)),
                ("steps_per_kilogram", models.BooleanField(default=False)),
                ("volumetric_divisor_cm3_per_kg", models.FloatField(blank=True, null=True)),
                ("surcharge_share", models.FloatField(blank=True, null=True)),
                ("months", models.JSONField(blank=True, default=list)),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
                (
                    "tariff",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.tariff",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical rule of a tariff",
                "verbose_name_plural": "historical rules of tariffs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalTariffStep",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("from_kg", models.FloatField()),
                ("amount_minor", models.BigIntegerField()),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
                (
                    "rule",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.tariffrule",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical step of weight",
                "verbose_name_plural": "historical steps of weight",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalTerms",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("confidence", models.FloatField(default=0.95)),
                ("softened_share_limit", models.FloatField(default=0.05)),
                ("closing_lead_minutes", models.FloatField()),
                ("electricity_price_minor_per_kwh", models.BigIntegerField()),
                ("freezing_kwh_per_kg", models.FloatField(default=0.38)),
                ("labour_price_minor_per_hour", models.BigIntegerField()),
                ("packing_minutes_per_carton", models.FloatField()),
                ("stale_after_days", models.IntegerField(default=30)),
                ("confirmed_on", models.DateField()),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical terms",
                "verbose_name_plural": "historical terms",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalTimetable",
            fields=[
                (
                    "id",
                    models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID"),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("monday", models.BooleanField(default=False)),
                ("tuesday", models.BooleanField(default=False)),
                ("wednesday", models.BooleanField(default=False)),
                ("thursday", models.BooleanField(default=False)),
                ("friday", models.BooleanField(default=False)),
                ("saturday", models.BooleanField(default=False)),
                ("sunday", models.BooleanField(default=False)),
                ("departs_at_local", models.TimeField()),
                ("leaves_when_full", models.BooleanField(default=False)),
                ("delay_hours_mean", models.FloatField()),
                ("delay_hours_cv", models.FloatField()),
                ("seats_left", models.IntegerField(blank=True, null=True)),
                ("riders_per_hour", models.FloatField(blank=True, null=True)),
                ("confirmed_on", models.DateField(blank=True, null=True)),
                ("history_change_reason", models.CharField(blank=True, max_length=500, null=True)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                (
                    "history_type",
                    models.CharField(
                        choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1
                    ),
                ),
                (
                    "carrier",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.carrier",
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="coop.member",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="coop.route",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical timetable",
                "verbose_name_plural": "historical timetables",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.RunPython(first_records, migrations.RunPython.noop),
    ]
