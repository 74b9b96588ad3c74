import django.db.models.deletion
import django.db.models.expressions
import django.db.models.lookups
from django.db import migrations, models


def numbered():
    return models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")


def between(table, column, low, high):
    condition = models.Q((f"{column}__gte", low), (f"{column}__lte", high))
    return models.CheckConstraint(condition=condition, name=f"{table}_{column}_range")


def one_of(table, column, words):
    return models.CheckConstraint(
        condition=models.Q((f"{column}__in", words)), name=f"{table}_{column}_known"
    )


def sourced(table):
    return models.CheckConstraint(
        condition=~models.Q(figures="read") | ~models.Q(source=""),
        name=f"{table}_read_names_its_source",
        violation_error_message="A figure that was read names its source.",
    )


def ending(table):
    return models.CheckConstraint(
        condition=models.Q(valid_until__isnull=True) | models.Q(valid_until__gt=models.F("valid_from")),
        name=f"{table}_ends_after_it_begins",
        violation_error_message="It must end after it begins.",
    )


class Migration(migrations.Migration):
    initial = True

    dependencies = []

    operations = [
        migrations.CreateModel(
            name="Cooperative",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("slug", models.SlugField(unique=True)),
                ("name", models.CharField(max_length=120)),
                ("currency", models.CharField(max_length=3)),
                ("currency_decimals", models.IntegerField(default=2)),
                ("coin_minor", models.IntegerField(default=1)),
                ("language", models.CharField(default="en", max_length=2)),
                ("time_zone", models.CharField(max_length=64)),
                ("confidence", models.FloatField(default=0.95)),
                ("softened_share_limit", models.FloatField(default=0.05)),
                ("closing_lead_minutes", models.FloatField()),
                ("electricity_price_minor_per_kwh", models.BigIntegerField()),
                ("freezing_kwh_per_kg", models.FloatField(default=0.38)),
                ("labour_price_minor_per_hour", models.BigIntegerField()),
                ("packing_minutes_per_carton", models.FloatField()),
                ("is_demo", models.BooleanField(default=False)),
            ],
            options={
                "ordering": ("name", "id"),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("is_demo", True)),
                        fields=("is_demo",),
                        name="cooperative_one_demonstration",
                    ),
                    between("cooperative", "currency_decimals", 0, 4),
                    between("cooperative", "coin_minor", 1, 1000000),
                    between("cooperative", "confidence", 0.5, 0.999),
                    between("cooperative", "softened_share_limit", 0.001, 0.5),
                    between("cooperative", "closing_lead_minutes", 0, 1440),
                    between("cooperative", "electricity_price_minor_per_kwh", 0, 1000000000000),
                    between("cooperative", "freezing_kwh_per_kg", 0, 5),
                    between("cooperative", "labour_price_minor_per_hour", 0, 1000000000000),
                    between("cooperative", "packing_minutes_per_carton", 0, 480),
                    one_of("cooperative", "language", ["en", "fr", "mg", "sw"]),
                    one_of("cooperative", "figures", ["read", "estimated", "invented"]),
                    sourced("cooperative"),
                ],
            },
        ),
        migrations.CreateModel(
            name="CartonDesign",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
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
                "constraints": [
                    models.UniqueConstraint(
                        fields=("cooperative", "slug"), name="carton_design_slug_once_in_a_cooperative"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "outer_length_m__gt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("insulation_left_m"), "+", models.F("insulation_right_m")
                                    ),
                                    "+",
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("board_thickness_m"), "*", models.Value(2)
                                    ),
                                ),
                            )
                        ),
                        name="carton_design_room_along_the_length",
                        violation_error_message="The walls leave no room inside: board and insulation are thicker than the carton.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "outer_width_m__gt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("insulation_front_m"), "+", models.F("insulation_back_m")
                                    ),
                                    "+",
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("board_thickness_m"), "*", models.Value(2)
                                    ),
                                ),
                            )
                        ),
                        name="carton_design_room_along_the_width",
                        violation_error_message="The walls leave no room inside: board and insulation are thicker than the carton.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "outer_height_m__gt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("insulation_bottom_m"), "+", models.F("insulation_top_m")
                                    ),
                                    "+",
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("board_thickness_m"), "*", models.Value(2)
                                    ),
                                ),
                            )
                        ),
                        name="carton_design_room_along_the_height",
                        violation_error_message="The walls leave no room inside: board and insulation are thicker than the carton.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("insulation_conductivity_w_m_k__isnull", False),
                            models.Q(
                                ("insulation_density_kg_m3__gte", 80),
                                ("insulation_density_kg_m3__lte", 180),
                                ("insulation_material", "shavings"),
                            ),
                            _connector="OR",
                        ),
                        name="carton_design_has_a_conductivity",
                        violation_error_message="Enter the conductivity: only wood shavings of 80 to 180 kg/m³ have one by their density.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("returnable", True), ("expected_trips", 1), _connector="OR"),
                        name="carton_design_one_way_lasts_one_trip",
                        violation_error_message="A carton that does not come back lasts one trip.",
                    ),
                    one_of(
                        "carton_design",
                        "insulation_material",
                        ["shavings", "sawdust", "rice_husk", "coir", "cork", "eps", "polyurethane"],
                    ),
                    between("carton_design", "outer_length_m", 0.1, 2.5),
                    between("carton_design", "outer_width_m", 0.1, 2.5),
                    between("carton_design", "outer_height_m", 0.1, 2.5),
                    between("carton_design", "insulation_left_m", 0, 0.5),
                    between("carton_design", "insulation_right_m", 0, 0.5),
                    between("carton_design", "insulation_front_m", 0, 0.5),
                    between("carton_design", "insulation_back_m", 0, 0.5),
                    between("carton_design", "insulation_bottom_m", 0, 0.5),
                    between("carton_design", "insulation_top_m", 0, 0.5),
                    between("carton_design", "board_thickness_m", 0, 0.5),
                    between("carton_design", "board_conductivity_w_m_k", 0.005, 2),
                    between("carton_design", "insulation_density_kg_m3", 5, 1000),
                    between("carton_design", "insulation_conductivity_w_m_k", 0.005, 2),
                    between("carton_design", "insulation_conductivity_cv", 0.02, 0.6),
                    between("carton_design", "insulation_specific_heat_j_kg_k", 500, 4200),
                    between("carton_design", "stowage_density_kg_m3", 100, 1000),
                    between("carton_design", "thin_bag_kg", 0.1, 50),
                    between("carton_design", "rope_wraps_length", 0, 20),
                    between("carton_design", "rope_wraps_width", 0, 20),
                    between("carton_design", "expected_trips", 1, 1000),
                    between("carton_design", "loss_chance", 0, 1),
                    between("carton_design", "empty_mass_kg", 0.1, 200),
                    one_of("carton_design", "figures", ["read", "estimated", "invented"]),
                    sourced("carton_design"),
                ],
                "verbose_name": "carton design",
                "ordering": ("name", "id"),
            },
        ),
        migrations.CreateModel(
            name="Carrier",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("name", models.CharField(max_length=120)),
                ("vehicle", models.CharField(max_length=12)),
                ("ride", models.CharField(max_length=8)),
                ("waits_in", models.CharField(max_length=8)),
                ("cabin_offset_c", models.FloatField(default=0)),
                ("carton_places", models.IntegerField()),
                ("breakdown_chance", models.FloatField()),
                ("breakdown_hours_mean", models.FloatField()),
                ("breakdown_hours_cv", models.FloatField()),
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
                "constraints": [
                    models.UniqueConstraint(
                        fields=("cooperative", "name"), name="carrier_name_once_in_a_cooperative"
                    ),
                    one_of("carrier", "vehicle", ["minibus", "shared_taxi", "lorry", "pickup"]),
                    one_of("carrier", "ride", ["roof", "cabin", "hold"]),
                    one_of("carrier", "waits_in", ["shade", "sun"]),
                    between("carrier", "cabin_offset_c", -40, 30),
                    between("carrier", "carton_places", 1, 1000),
                    between("carrier", "breakdown_chance", 0, 1),
                    between("carrier", "breakdown_hours_mean", 0, 240),
                    between("carrier", "breakdown_hours_cv", 0, 5),
                    one_of("carrier", "figures", ["read", "estimated", "invented"]),
                    sourced("carrier"),
                ],
                "ordering": ("name", "id"),
            },
        ),
        migrations.CreateModel(
            name="Material",
            fields=[
                ("id", numbered()),
                ("slug", models.SlugField()),
                ("name", models.CharField(max_length=120)),
                ("unit", models.CharField(max_length=8)),
                ("sack_volume_m3", models.FloatField(blank=True, null=True)),
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
                "constraints": [
                    models.UniqueConstraint(
                        fields=("cooperative", "slug"), name="material_slug_once_in_a_cooperative"
                    ),
                    one_of("material", "unit", ["piece", "kg", "m", "m2", "m3", "sack"]),
                    between("material", "sack_volume_m3", 0.001, 2),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("sack_volume_m3__isnull", False), ("unit", "sack")),
                            models.Q(
                                models.Q(("unit", "sack"), _negated=True), ("sack_volume_m3__isnull", True)
                            ),
                            _connector="OR",
                        ),
                        name="material_sack_has_a_volume",
                        violation_error_message="Room of one sack: needed for what is sold by the sack, empty for anything else.",
                    ),
                ],
                "ordering": ("name", "id"),
            },
        ),
        migrations.CreateModel(
            name="DesignMaterial",
            fields=[
                ("id", numbered()),
                ("use", models.CharField(max_length=12)),
                ("quantity", models.FloatField(blank=True, null=True)),
                ("returns_with_box", models.BooleanField(default=False)),
                (
                    "design",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="materials",
                        to="coop.cartondesign",
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="uses", to="coop.material"
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("design", "material", "use"), name="design_material_once_for_a_use"
                    ),
                    one_of(
                        "design_material",
                        "use",
                        [
                            "carton",
                            "box",
                            "insulation",
                            "liner_bag",
                            "thin_bag",
                            "rope",
                            "thread",
                            "board",
                            "other",
                        ],
                    ),
                    between("design_material", "quantity", 0.001, 10000),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("use", "other"), _negated=True),
                            ("quantity__isnull", False),
                            _connector="OR",
                        ),
                        name="design_material_other_has_a_quantity",
                        violation_error_message="Nothing tells how much of this is needed: enter the quantity.",
                    ),
                ],
                "verbose_name": "material of a carton",
                "verbose_name_plural": "materials of a carton",
                "ordering": ("design", "id"),
            },
        ),
        migrations.CreateModel(
            name="MaterialPrice",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("amount_minor", models.BigIntegerField()),
                ("confirmed_on", models.DateField()),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="prices", to="coop.material"
                    ),
                ),
            ],
            options={
                "constraints": [
                    between("material_price", "amount_minor", 0, 1000000000000),
                    one_of("material_price", "figures", ["read", "estimated", "invented"]),
                    sourced("material_price"),
                    ending("material_price"),
                ],
                "verbose_name": "price of a material",
                "verbose_name_plural": "prices of materials",
                "ordering": ("material", "-valid_from"),
            },
        ),
        migrations.CreateModel(
            name="Member",
            fields=[
                ("id", numbered()),
                ("name", models.CharField(max_length=120)),
                ("phone", models.CharField(blank=True, max_length=32)),
                ("joined_on", models.DateField()),
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
                "constraints": [
                    models.UniqueConstraint(
                        fields=("cooperative", "name", "phone"),
                        name="member_once_in_a_cooperative",
                        violation_error_message="This member stands in the list already.",
                    )
                ],
                "ordering": ("name", "id"),
            },
        ),
        migrations.CreateModel(
            name="Place",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("code", models.SlugField(unique=True)),
                ("name", models.CharField(max_length=80)),
                ("country", models.CharField(max_length=2)),
                ("latitude_deg", models.FloatField()),
                ("longitude_deg", models.FloatField()),
                ("altitude_m", models.FloatField()),
                ("time_zone", models.CharField(max_length=64)),
            ],
            options={
                "ordering": ("name", "id"),
                "constraints": [
                    between("place", "latitude_deg", -90, 90),
                    between("place", "longitude_deg", -180, 180),
                    between("place", "altitude_m", -430, 6000),
                    one_of("place", "figures", ["read", "estimated", "invented"]),
                    sourced("place"),
                ],
            },
        ),
        migrations.CreateModel(
            name="DayWeather",
            fields=[
                ("id", numbered()),
                ("date", models.DateField()),
                ("temperature_max_c", models.FloatField()),
                ("temperature_min_c", models.FloatField()),
                ("cloud_share", models.FloatField(blank=True, null=True)),
                ("kind", models.CharField(max_length=10)),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "place",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="day_weathers",
                        to="coop.place",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("cooperative", "place", "date", "kind"),
                        name="day_weather_once_a_day_and_kind",
                    ),
                    between("day_weather", "temperature_max_c", -60, 60),
                    between("day_weather", "temperature_min_c", -60, 60),
                    between("day_weather", "cloud_share", 0, 1),
                    models.CheckConstraint(
                        condition=models.Q(("temperature_max_c__gte", models.F("temperature_min_c"))),
                        name="day_weather_maximum_not_below_minimum",
                        violation_error_message="The maximum is not below the minimum.",
                    ),
                    one_of("day_weather", "kind", ["observed", "forecast"]),
                ],
                "verbose_name": "weather of a day",
                "verbose_name_plural": "weather of days",
                "ordering": ("-date", "place", "kind"),
            },
        ),
        migrations.CreateModel(
            name="Climate",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("month", models.IntegerField()),
                ("temperature_max_c", models.FloatField()),
                ("temperature_min_c", models.FloatField()),
                ("cloud_share", models.FloatField()),
                ("cloud_figures", models.CharField(default="estimated", max_length=10)),
                (
                    "place",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="climates", to="coop.place"
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("place", "month"), name="climate_once_a_month"),
                    between("climate", "month", 1, 12),
                    between("climate", "temperature_max_c", -60, 60),
                    between("climate", "temperature_min_c", -60, 60),
                    between("climate", "cloud_share", 0, 1),
                    models.CheckConstraint(
                        condition=models.Q(("temperature_max_c__gte", models.F("temperature_min_c"))),
                        name="climate_maximum_not_below_minimum",
                        violation_error_message="The maximum is not below the minimum.",
                    ),
                    one_of("climate", "cloud_figures", ["read", "estimated", "invented"]),
                    one_of("climate", "figures", ["read", "estimated", "invented"]),
                    sourced("climate"),
                ],
                "verbose_name_plural": "climate",
                "ordering": ("place", "month"),
            },
        ),
        migrations.CreateModel(
            name="Buyer",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("slug", models.SlugField()),
                ("name", models.CharField(max_length=120)),
                ("limit_kind", models.CharField(default="softened_share", max_length=16)),
                ("limit_value", models.FloatField()),
                ("last_stretch_hours_mean", models.FloatField()),
                ("last_stretch_hours_cv", models.FloatField()),
                ("waits_in", models.CharField(max_length=8)),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "place",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="buyers", to="coop.place"
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("cooperative", "slug"), name="buyer_slug_once_in_a_cooperative"
                    ),
                    one_of("buyer", "limit_kind", ["softened_share", "core_c", "mean_c", "warmest_c"]),
                    one_of("buyer", "waits_in", ["shade", "sun"]),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("limit_kind", "softened_share"),
                                ("limit_value__gte", 0.001),
                                ("limit_value__lte", 0.5),
                            ),
                            models.Q(
                                models.Q(("limit_kind", "softened_share"), _negated=True),
                                ("limit_value__gte", -40),
                                ("limit_value__lte", -0.5),
                            ),
                            _connector="OR",
                        ),
                        name="buyer_limit_fits_its_kind",
                        violation_error_message="A softened share lies between 0.001 and 0.5, a temperature between -40 and -0.5 °C.",
                    ),
                    between("buyer", "last_stretch_hours_mean", 0, 48),
                    between("buyer", "last_stretch_hours_cv", 0, 5),
                    one_of("buyer", "figures", ["read", "estimated", "invented"]),
                    sourced("buyer"),
                ],
                "ordering": ("name", "id"),
            },
        ),
        migrations.CreateModel(
            name="ReceivingHours",
            fields=[
                ("id", numbered()),
                ("weekday", models.IntegerField()),
                ("opens_at", models.TimeField()),
                ("closes_at", models.TimeField()),
                (
                    "buyer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="receiving_hours",
                        to="coop.buyer",
                    ),
                ),
            ],
            options={
                "constraints": [
                    between("receiving_hours", "weekday", 0, 6),
                    models.CheckConstraint(
                        condition=models.Q(("closes_at__gt", models.F("opens_at"))),
                        name="receiving_hours_close_after_opening",
                        violation_error_message="It closes after it opens, on the same day.",
                    ),
                ],
                "verbose_name": "receiving hours",
                "verbose_name_plural": "receiving hours",
                "ordering": ("buyer", "weekday", "opens_at"),
            },
        ),
        migrations.CreateModel(
            name="Route",
            fields=[
                ("id", numbered()),
                ("slug", models.SlugField()),
                ("name", models.CharField(max_length=120)),
                ("leg_correlation", models.FloatField(default=0.5)),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "destination",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="routes_to", to="coop.place"
                    ),
                ),
                (
                    "origin",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="routes_from",
                        to="coop.place",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("cooperative", "slug"), name="route_slug_once_in_a_cooperative"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("origin", models.F("destination")), _negated=True),
                        name="route_leads_elsewhere",
                        violation_error_message="A route leads from one place to another.",
                    ),
                    between("route", "leg_correlation", 0, 0.99),
                ],
                "ordering": ("name", "id"),
            },
        ),
        migrations.CreateModel(
            name="Leg",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("position", models.IntegerField()),
                ("distance_km", models.FloatField()),
                ("hours_mean", models.FloatField()),
                ("hours_floor", models.FloatField()),
                ("hours_cv", models.FloatField()),
                ("stop_hours_mean", models.FloatField()),
                ("stop_hours_cv", models.FloatField()),
                (
                    "end",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="legs_to", to="coop.place"
                    ),
                ),
                (
                    "start",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="legs_from", to="coop.place"
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="legs", to="coop.route"
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("route", "position"), name="leg_position_once_on_a_route"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("start", models.F("end")), _negated=True),
                        name="leg_leads_elsewhere",
                        violation_error_message="A leg leads from one place to another.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("hours_floor__lt", models.F("hours_mean"))),
                        name="leg_floor_below_mean",
                        violation_error_message="The least hours are fewer than the mean hours.",
                    ),
                    between("leg", "position", 1, 99),
                    between("leg", "distance_km", 0.1, 3000),
                    between("leg", "hours_mean", 0.01, 200),
                    between("leg", "hours_floor", 0, 200),
                    between("leg", "hours_cv", 0, 5),
                    between("leg", "stop_hours_mean", 0, 48),
                    between("leg", "stop_hours_cv", 0, 5),
                    one_of("leg", "figures", ["read", "estimated", "invented"]),
                    sourced("leg"),
                ],
                "ordering": ("route", "position"),
            },
        ),
        migrations.CreateModel(
            name="Charge",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("kind", models.CharField(max_length=16)),
                ("name", models.CharField(max_length=120)),
                ("basis", models.CharField(max_length=12)),
                ("amount_minor", models.BigIntegerField()),
                ("confirmed_on", models.DateField()),
                (
                    "buyer",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="charges",
                        to="coop.buyer",
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="charges",
                        to="coop.route",
                    ),
                ),
            ],
            options={
                "constraints": [
                    one_of("charge", "kind", ["handling", "levy", "papers", "receiver", "freezing_energy"]),
                    one_of("charge", "basis", ["consignment", "carton", "kilogram"]),
                    between("charge", "amount_minor", 0, 1000000000000),
                    one_of("charge", "figures", ["read", "estimated", "invented"]),
                    sourced("charge"),
                    ending("charge"),
                ],
                "ordering": ("kind", "name", "-valid_from", "id"),
            },
        ),
        migrations.CreateModel(
            name="Species",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("code", models.CharField(max_length=3, unique=True)),
                ("scientific_name", models.CharField(max_length=120)),
                ("name_en", models.CharField(max_length=80)),
                ("name_fr", models.CharField(blank=True, max_length=80)),
                ("name_mg", models.CharField(blank=True, max_length=80)),
                ("name_sw", models.CharField(blank=True, max_length=80)),
                ("family", models.CharField(max_length=60)),
                ("water_share", models.FloatField()),
                ("protein_share", models.FloatField()),
                ("fat_share", models.FloatField()),
                ("ash_share", models.FloatField()),
                ("freezing_point_c", models.FloatField(default=-1.0)),
                ("histamine_prone", models.BooleanField(default=False)),
            ],
            options={
                "verbose_name_plural": "species",
                "ordering": ("name_en", "id"),
                "constraints": [
                    between("species", "water_share", 0, 1),
                    between("species", "protein_share", 0, 1),
                    between("species", "fat_share", 0, 1),
                    between("species", "ash_share", 0, 1),
                    between("species", "freezing_point_c", -5, -0.1),
                    models.CheckConstraint(
                        condition=models.Q(
                            django.db.models.lookups.GreaterThanOrEqual(
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        django.db.models.expressions.CombinedExpression(
                                            models.F("water_share"), "+", models.F("protein_share")
                                        ),
                                        "+",
                                        models.F("fat_share"),
                                    ),
                                    "+",
                                    models.F("ash_share"),
                                ),
                                0.98,
                            ),
                            django.db.models.lookups.LessThanOrEqual(
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        django.db.models.expressions.CombinedExpression(
                                            models.F("water_share"), "+", models.F("protein_share")
                                        ),
                                        "+",
                                        models.F("fat_share"),
                                    ),
                                    "+",
                                    models.F("ash_share"),
                                ),
                                1.02,
                            ),
                        ),
                        name="species_shares_sum_to_one",
                        violation_error_message="Water, protein, fat and ash add up to 1, give or take 0.02.",
                    ),
                    one_of("species", "figures", ["read", "estimated", "invented"]),
                    sourced("species"),
                ],
            },
        ),
        migrations.CreateModel(
            name="FishPrice",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("bought_minor_per_kg", models.BigIntegerField()),
                ("sold_minor_per_kg", models.BigIntegerField()),
                ("soft_minor_per_kg", models.BigIntegerField()),
                ("confirmed_on", models.DateField()),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "species",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="fish_prices",
                        to="coop.species",
                    ),
                ),
            ],
            options={
                "constraints": [
                    between("fish_price", "bought_minor_per_kg", 0, 1000000000000),
                    between("fish_price", "sold_minor_per_kg", 0, 1000000000000),
                    between("fish_price", "soft_minor_per_kg", 0, 1000000000000),
                    models.CheckConstraint(
                        condition=models.Q(("soft_minor_per_kg__lte", models.F("sold_minor_per_kg"))),
                        name="fish_price_soft_not_above_hard",
                        violation_error_message="Soft fish does not fetch more than hard fish.",
                    ),
                    one_of("fish_price", "figures", ["read", "estimated", "invented"]),
                    sourced("fish_price"),
                    ending("fish_price"),
                ],
                "verbose_name": "price of fish",
                "verbose_name_plural": "prices of fish",
                "ordering": ("species", "-valid_from"),
            },
        ),
        migrations.CreateModel(
            name="Tariff",
            fields=[
                ("id", numbered()),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                ("valid_from", models.DateField()),
                ("valid_until", models.DateField(blank=True, null=True)),
                ("confirmed_on", models.DateField()),
                (
                    "carrier",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="tariffs", to="coop.carrier"
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="tariffs", to="coop.route"
                    ),
                ),
            ],
            options={
                "constraints": [
                    one_of("tariff", "figures", ["read", "estimated", "invented"]),
                    sourced("tariff"),
                    ending("tariff"),
                ],
                "ordering": ("carrier", "route", "-valid_from"),
            },
        ),
        migrations.CreateModel(
            name="TariffRule",
            fields=[
                ("id", numbered()),
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
                (
                    "tariff",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="rules", to="coop.tariff"
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("tariff", "position"), name="tariff_rule_position_once_in_a_tariff"
                    ),
                    one_of(
                        "tariff_rule",
                        "kind",
                        [
                            "per_carton",
                            "per_kilogram",
                            "by_step",
                            "per_volume",
                            "per_volumetric_kilogram",
                            "per_seat",
                            "return_of_empty",
                            "surcharge",
                        ],
                    ),
                    between("tariff_rule", "position", 1, 99),
                    between("tariff_rule", "amount_minor", 0, 1000000000000),
                    between("tariff_rule", "minimum_minor", 0, 1000000000000),
                    between("tariff_rule", "minimum_kg", 0, 100000),
                    between("tariff_rule", "seats_per_carton", 1, 20),
                    between("tariff_rule", "volumetric_divisor_cm3_per_kg", 1000, 20000),
                    between("tariff_rule", "surcharge_share", -0.9, 5),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind", "per_seat"), ("seats_per_carton__isnull", False)),
                            models.Q(
                                models.Q(("kind", "per_seat"), _negated=True),
                                ("seats_per_carton__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="tariff_rule_seats_only_for_seats",
                        violation_error_message="Seats a carton takes: needed for each seat taken, empty for any other kind.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("kind", "per_volumetric_kilogram"),
                                ("volumetric_divisor_cm3_per_kg__isnull", False),
                            ),
                            models.Q(
                                models.Q(("kind", "per_volumetric_kilogram"), _negated=True),
                                ("volumetric_divisor_cm3_per_kg__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="tariff_rule_divisor_only_for_volume",
                        violation_error_message="Cubic centimetres a kilogram: needed for kilograms by volume, empty for any other kind.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind", "surcharge"), ("surcharge_share__isnull", False)),
                            models.Q(
                                models.Q(("kind", "surcharge"), _negated=True),
                                ("surcharge_share__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="tariff_rule_share_only_for_surcharge",
                        violation_error_message="Share on top: needed for a share on top, empty for any other kind.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("kind", "by_step"), ("steps_per_kilogram", False), _connector="OR"
                        ),
                        name="tariff_rule_steps_per_kilogram_only_for_steps",
                        violation_error_message="Only steps of weight can be for a kilogram.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind__in", ["by_step", "surcharge"]), _negated=True),
                            ("amount_minor", 0),
                            _connector="OR",
                        ),
                        name="tariff_rule_no_amount_for_steps_and_shares",
                        violation_error_message="Steps carry their own amounts and a share on top has none: the amount here is 0.",
                    ),
                ],
                "verbose_name": "rule of a tariff",
                "verbose_name_plural": "rules of tariffs",
                "ordering": ("tariff", "position"),
            },
        ),
        migrations.CreateModel(
            name="TariffStep",
            fields=[
                ("id", numbered()),
                ("from_kg", models.FloatField()),
                ("amount_minor", models.BigIntegerField()),
                (
                    "rule",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="steps",
                        to="coop.tariffrule",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("rule", "from_kg"), name="tariff_step_once_in_a_rule"),
                    between("tariff_step", "from_kg", 0, 100000),
                    between("tariff_step", "amount_minor", 0, 1000000000000),
                ],
                "verbose_name": "step of weight",
                "verbose_name_plural": "steps of weight",
                "ordering": ("rule", "from_kg"),
            },
        ),
        migrations.CreateModel(
            name="Timetable",
            fields=[
                ("id", numbered()),
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
                (
                    "carrier",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="timetables",
                        to="coop.carrier",
                    ),
                ),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="timetables",
                        to="coop.route",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("monday", True),
                            ("tuesday", True),
                            ("wednesday", True),
                            ("thursday", True),
                            ("friday", True),
                            ("saturday", True),
                            ("sunday", True),
                            _connector="OR",
                        ),
                        name="timetable_runs_on_some_day",
                        violation_error_message="It leaves on at least one day of the week.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("leaves_when_full", False),
                            models.Q(("riders_per_hour__isnull", False), ("seats_left__isnull", False)),
                            _connector="OR",
                        ),
                        name="timetable_filling_knows_seats_and_riders",
                        violation_error_message="One that leaves when full needs the seats still to fill and the riders an hour.",
                    ),
                    between("timetable", "delay_hours_mean", 0, 72),
                    between("timetable", "delay_hours_cv", 0, 5),
                    between("timetable", "seats_left", 1, 200),
                    between("timetable", "riders_per_hour", 0.01, 500),
                    one_of("timetable", "figures", ["read", "estimated", "invented"]),
                    sourced("timetable"),
                    ending("timetable"),
                ],
                "ordering": ("route", "departs_at_local", "carrier", "valid_from", "id"),
            },
        ),
    ]
