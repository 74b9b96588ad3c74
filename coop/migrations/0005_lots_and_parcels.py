"""Lots, parcels with their cartons, and the money of them."""

import uuid

import django.db.models.deletion
import django.db.models.functions.comparison
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("coop", "0004_people_and_phones"),
    ]

    operations = [
        migrations.AddField(
            model_name="cooperative",
            name="sharing_rule",
            field=models.CharField(default="capped", max_length=10),
        ),
        migrations.AddField(
            model_name="cooperative",
            name="claims_rule",
            field=models.CharField(default="contested", max_length=14),
        ),
        migrations.AddConstraint(
            model_name="cooperative",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("sharing_rule__in", ["by_weight", "equal", "serial", "shapley", "nucleolus", "capped"])
                ),
                name="cooperative_sharing_rule_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="cooperative",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("claims_rule__in", ["proportional", "equal_awards", "equal_losses", "contested"])
                ),
                name="cooperative_claims_rule_known",
            ),
        ),
        migrations.CreateModel(
            name="Freezer",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("figures", models.CharField(default="estimated", max_length=10)),
                ("source", models.CharField(blank=True, max_length=300)),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                ("slug", models.SlugField()),
                ("name", models.CharField(max_length=120)),
                ("air_temperature_c", models.FloatField()),
                ("film_w_m2_k", models.FloatField()),
                ("freezing_kg_per_day", models.FloatField()),
                ("coefficient_of_performance", models.FloatField()),
                ("standing_w", models.FloatField()),
                ("holds_kg", models.FloatField()),
            ],
            options={
                "ordering": ("name", "id"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("cooperative", "slug"), name="freezer_slug_once_in_a_cooperative"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("air_temperature_c__gte", -60), ("air_temperature_c__lte", -5)),
                        name="freezer_air_temperature_c_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("film_w_m2_k__gte", 2), ("film_w_m2_k__lte", 500)),
                        name="freezer_film_w_m2_k_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("freezing_kg_per_day__gte", 0.1), ("freezing_kg_per_day__lte", 100000)
                        ),
                        name="freezer_freezing_kg_per_day_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("coefficient_of_performance__gte", 0.2), ("coefficient_of_performance__lte", 10)
                        ),
                        name="freezer_coefficient_of_performance_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("standing_w__gte", 0), ("standing_w__lte", 100000)),
                        name="freezer_standing_w_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("holds_kg__gte", 0.1), ("holds_kg__lte", 1000000)),
                        name="freezer_holds_kg_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("figures__in", ["read", "estimated", "invented"])),
                        name="freezer_figures_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("figures", "read"), _negated=True),
                            models.Q(("source", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="freezer_read_names_its_source",
                        violation_error_message="A figure that was read names its source.",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Separation",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                    "one",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="coop.species"
                    ),
                ),
                (
                    "other",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="coop.species"
                    ),
                ),
            ],
            options={
                "verbose_name": "species kept apart",
                "verbose_name_plural": "species kept apart",
                "ordering": ("one", "other"),
                "constraints": [
                    models.UniqueConstraint(
                        models.F("cooperative"),
                        django.db.models.functions.comparison.Least("one", "other"),
                        django.db.models.functions.comparison.Greatest("one", "other"),
                        name="separation_once_in_a_cooperative",
                        violation_error_message="These two are kept apart already.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("one", models.F("other")), _negated=True),
                        name="separation_of_two_species",
                        violation_error_message="Name two species.",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Lot",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lots", to="coop.member"
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lots", to="coop.route"
                    ),
                ),
                (
                    "buyer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lots", to="coop.buyer"
                    ),
                ),
                (
                    "species",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lots", to="coop.species"
                    ),
                ),
                ("mass_kg", models.FloatField()),
                ("frozen_since", models.DateTimeField()),
                ("ready_at", models.DateTimeField()),
                ("start_temperature_c", models.FloatField()),
                ("deliver_by", models.DateTimeField(blank=True, null=True)),
                ("may_be_split", models.BooleanField(default=False)),
                (
                    "offered_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="lots_offered",
                        to="coop.member",
                    ),
                ),
                ("offered_at", models.DateTimeField()),
                ("withdrawn_at", models.DateTimeField(blank=True, null=True)),
                ("note", models.CharField(blank=True, max_length=500)),
            ],
            options={
                "ordering": ("-offered_at", "-id"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("mass_kg__gte", 0.1), ("mass_kg__lte", 5000)),
                        name="lot_mass_kg_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("start_temperature_c__gte", -45), ("start_temperature_c__lte", -2.5)
                        ),
                        name="lot_start_temperature_c_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("ready_at__gte", models.F("frozen_since"))),
                        name="lot_ready_after_freezing",
                        violation_error_message="It is not ready before it is frozen.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("deliver_by__isnull", True),
                            ("deliver_by__gt", models.F("ready_at")),
                            _connector="OR",
                        ),
                        name="lot_delivered_after_it_is_ready",
                        violation_error_message="It is delivered after it is ready.",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Parcel",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
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
                        on_delete=django.db.models.deletion.PROTECT, related_name="parcels", to="coop.route"
                    ),
                ),
                (
                    "buyer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="parcels", to="coop.buyer"
                    ),
                ),
                (
                    "timetable",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="parcels",
                        to="coop.timetable",
                    ),
                ),
                (
                    "design",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="parcels",
                        to="coop.cartondesign",
                    ),
                ),
                ("departs_at", models.DateTimeField()),
                ("closes_at", models.DateTimeField()),
                (
                    "opened_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="parcels_opened",
                        to="coop.member",
                    ),
                ),
                ("opened_at", models.DateTimeField()),
                ("state", models.CharField(default="open", max_length=12)),
                ("sharing_rule", models.CharField(blank=True, max_length=10)),
                ("closed_at", models.DateTimeField(blank=True, null=True)),
                ("departed_at", models.DateTimeField(blank=True, null=True)),
                ("driver", models.CharField(blank=True, max_length=120)),
                ("plate", models.CharField(blank=True, max_length=32)),
                ("departed_note", models.CharField(blank=True, max_length=500)),
                ("arrived_at", models.DateTimeField(blank=True, null=True)),
                ("handed_over_at", models.DateTimeField(blank=True, null=True)),
                ("is_hard", models.BooleanField(blank=True, null=True)),
                ("soft_kg", models.FloatField(blank=True, null=True)),
                ("core_temperature_c", models.FloatField(blank=True, null=True)),
                ("received_by", models.CharField(blank=True, max_length=120)),
                ("handed_over_note", models.CharField(blank=True, max_length=500)),
                ("settled_at", models.DateTimeField(blank=True, null=True)),
                ("received_minor", models.BigIntegerField(blank=True, null=True)),
            ],
            options={
                "ordering": ("-departs_at", "-id"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("state__in", ["open", "closed", "departed", "handed_over", "settled"])
                        ),
                        name="parcel_state_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("soft_kg__gte", 0), ("soft_kg__lte", 1000000)),
                        name="parcel_soft_kg_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("core_temperature_c__gte", -60), ("core_temperature_c__lte", 60)),
                        name="parcel_core_temperature_c_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("received_minor__gte", 0), ("received_minor__lte", 1000000000000)
                        ),
                        name="parcel_received_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("closed_at__isnull", True),
                                ("departed_at__isnull", True),
                                ("handed_over_at__isnull", True),
                                ("settled_at__isnull", True),
                                ("state", "open"),
                            ),
                            models.Q(
                                ("closed_at__isnull", False),
                                ("departed_at__isnull", True),
                                ("handed_over_at__isnull", True),
                                ("settled_at__isnull", True),
                                ("state", "closed"),
                            ),
                            models.Q(
                                ("closed_at__isnull", False),
                                ("departed_at__isnull", False),
                                ("handed_over_at__isnull", True),
                                ("settled_at__isnull", True),
                                ("state", "departed"),
                            ),
                            models.Q(
                                ("closed_at__isnull", False),
                                ("departed_at__isnull", False),
                                ("handed_over_at__isnull", False),
                                ("settled_at__isnull", True),
                                ("state", "handed_over"),
                            ),
                            models.Q(
                                ("closed_at__isnull", False),
                                ("departed_at__isnull", False),
                                ("handed_over_at__isnull", False),
                                ("settled_at__isnull", False),
                                ("state", "settled"),
                            ),
                            _connector="OR",
                        ),
                        name="parcel_state_agrees_with_its_times",
                        violation_error_message="The state of a parcel agrees with the times that are written down.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("sharing_rule", ""), ("state", "open")),
                            models.Q(
                                models.Q(("state", "open"), _negated=True),
                                (
                                    "sharing_rule__in",
                                    ["by_weight", "equal", "serial", "shapley", "nucleolus", "capped"],
                                ),
                            ),
                            _connector="OR",
                        ),
                        name="parcel_shared_by_a_rule_once_closed",
                        violation_error_message="A parcel has its rule from the day on which it closes.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("closes_at__lte", models.F("departs_at"))),
                        name="parcel_closes_before_it_leaves",
                        violation_error_message="It is planned to close before it is planned to leave.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("departed_at__isnull", True),
                            ("departed_at__gte", models.F("closed_at")),
                            _connector="OR",
                        ),
                        name="parcel_leaves_after_closing",
                        violation_error_message="It leaves after it is closed.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("handed_over_at__isnull", True),
                            ("handed_over_at__gte", models.F("departed_at")),
                            _connector="OR",
                        ),
                        name="parcel_handed_over_after_leaving",
                        violation_error_message="It is handed over after it left.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("arrived_at__isnull", True),
                            models.Q(
                                ("arrived_at__gte", models.F("departed_at")),
                                ("arrived_at__lte", models.F("handed_over_at")),
                            ),
                            _connector="OR",
                        ),
                        name="parcel_arrives_on_the_way",
                        violation_error_message="It arrives after it left and before it is handed over.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("handed_over_at__isnull", True),
                                ("is_hard__isnull", True),
                                ("soft_kg__isnull", True),
                            ),
                            models.Q(
                                models.Q(("is_hard", True), ("soft_kg__gt", 0), _connector="OR"),
                                ("handed_over_at__isnull", False),
                                ("is_hard__isnull", False),
                                ("soft_kg__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="parcel_handed_over_says_how_it_was",
                        violation_error_message="Whoever hands it over says whether it was hard, and how much had softened.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("received_minor__isnull", True), ("settled_at__isnull", False), _connector="OR"
                        ),
                        name="parcel_paid_when_settled",
                        violation_error_message="What the buyer paid is written down when it is settled.",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ParcelCarton",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "parcel",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="cartons", to="coop.parcel"
                    ),
                ),
                ("position", models.IntegerField()),
                ("capacity_kg", models.FloatField()),
                ("closed_at", models.DateTimeField(blank=True, null=True)),
                (
                    "closed_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="cartons_closed",
                        to="coop.member",
                    ),
                ),
                ("gross_mass_kg", models.FloatField(blank=True, null=True)),
                ("core_temperature_c", models.FloatField(blank=True, null=True)),
                ("chance_hard", models.FloatField(blank=True, null=True)),
                ("latest_safe_departure_at", models.DateTimeField(blank=True, null=True)),
            ],
            options={
                "verbose_name": "carton of a parcel",
                "verbose_name_plural": "cartons of a parcel",
                "ordering": ("parcel", "position"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("parcel", "position"), name="carton_position_once_in_a_parcel"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("position__gte", 1), ("position__lte", 1000)),
                        name="carton_position_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("capacity_kg__gte", 0.1), ("capacity_kg__lte", 5000)),
                        name="carton_capacity_kg_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("gross_mass_kg__gte", 0.1), ("gross_mass_kg__lte", 6000)),
                        name="carton_gross_mass_kg_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("core_temperature_c__gte", -60), ("core_temperature_c__lte", 60)),
                        name="carton_core_temperature_c_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("chance_hard__gte", 0), ("chance_hard__lte", 1)),
                        name="carton_chance_hard_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("chance_hard__isnull", False),
                                ("closed_at__isnull", False),
                                ("closed_by__isnull", False),
                            ),
                            models.Q(
                                ("chance_hard__isnull", True),
                                ("closed_at__isnull", True),
                                ("closed_by__isnull", True),
                                ("core_temperature_c__isnull", True),
                                ("gross_mass_kg__isnull", True),
                                ("latest_safe_departure_at__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="carton_closed_with_its_facts",
                        violation_error_message="A carton that is closed says by whom and how safe it was; an open one says nothing yet.",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Part",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "carton",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="parts",
                        to="coop.parcelcarton",
                    ),
                ),
                (
                    "lot",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="parts", to="coop.lot"
                    ),
                ),
                ("mass_kg", models.FloatField()),
            ],
            options={
                "verbose_name": "part of a lot",
                "verbose_name_plural": "parts of lots",
                "ordering": ("carton", "id"),
                "constraints": [
                    models.UniqueConstraint(fields=("carton", "lot"), name="part_once_in_a_carton"),
                    models.CheckConstraint(
                        condition=models.Q(("mass_kg__gte", 0.001), ("mass_kg__lte", 5000)),
                        name="part_mass_kg_range",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="BillLine",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "parcel",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="bill_lines",
                        to="coop.parcel",
                    ),
                ),
                ("position", models.IntegerField()),
                ("code", models.CharField(max_length=32)),
                ("name", models.CharField(blank=True, max_length=160)),
                ("amount_minor", models.BigIntegerField()),
                ("quantity", models.FloatField(blank=True, null=True)),
                ("unit", models.CharField(blank=True, max_length=16)),
                ("rate_minor", models.BigIntegerField(blank=True, null=True)),
                ("priced_on", models.DateField(blank=True, null=True)),
            ],
            options={
                "verbose_name": "line of a bill",
                "verbose_name_plural": "lines of bills",
                "ordering": ("parcel", "position"),
                "constraints": [
                    models.UniqueConstraint(fields=("parcel", "position"), name="bill_line_once_in_a_parcel"),
                    models.CheckConstraint(
                        condition=models.Q(("position__gte", 1), ("position__lte", 10000)),
                        name="bill_line_position_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("amount_minor__gte", -1000000000000), ("amount_minor__lte", 1000000000000)
                        ),
                        name="bill_line_amount_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gte", 0), ("quantity__lte", 10000000)),
                        name="bill_line_quantity_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("rate_minor__gte", -1000000000000), ("rate_minor__lte", 1000000000000)
                        ),
                        name="bill_line_rate_minor_range",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Share",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "parcel",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="shares", to="coop.parcel"
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="shares", to="coop.member"
                    ),
                ),
                ("rule", models.CharField(max_length=10)),
                ("mass_kg", models.FloatField()),
                ("amount_minor", models.BigIntegerField()),
                ("alone_minor", models.BigIntegerField(blank=True, null=True)),
            ],
            options={
                "ordering": ("parcel", "rule", "member"),
                "constraints": [
                    models.UniqueConstraint(fields=("parcel", "member", "rule"), name="share_once_by_a_rule"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("rule__in", ["by_weight", "equal", "serial", "shapley", "nucleolus", "capped"])
                        ),
                        name="share_rule_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("mass_kg__gte", 0.001), ("mass_kg__lte", 5000)),
                        name="share_mass_kg_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("amount_minor__gte", -1000000000000), ("amount_minor__lte", 1000000000000)
                        ),
                        name="share_amount_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("alone_minor__gte", 0), ("alone_minor__lte", 1000000000000)),
                        name="share_alone_minor_range",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Stability",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "parcel",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="stabilities",
                        to="coop.parcel",
                    ),
                ),
                ("rule", models.CharField(max_length=10)),
                ("core_is_empty", models.BooleanField(blank=True, null=True)),
                ("leaves", models.JSONField(blank=True, default=list)),
                ("gain_minor", models.BigIntegerField(default=0)),
            ],
            options={
                "verbose_name_plural": "stabilities",
                "ordering": ("parcel", "rule"),
                "constraints": [
                    models.UniqueConstraint(fields=("parcel", "rule"), name="stability_once_by_a_rule"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("rule__in", ["by_weight", "equal", "serial", "shapley", "nucleolus", "capped"])
                        ),
                        name="stability_rule_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("gain_minor__gte", 0), ("gain_minor__lte", 1000000000000)),
                        name="stability_gain_minor_range",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Claim",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "parcel",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="claims", to="coop.parcel"
                    ),
                ),
                ("kind", models.CharField(max_length=14)),
                (
                    "raised_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="claims_raised",
                        to="coop.member",
                    ),
                ),
                ("raised_at", models.DateTimeField()),
                ("note", models.CharField(blank=True, max_length=500)),
                ("estate_minor", models.BigIntegerField(blank=True, null=True)),
                ("rule", models.CharField(blank=True, max_length=14)),
                ("shared_at", models.DateTimeField(blank=True, null=True)),
                ("rejected_at", models.DateTimeField(blank=True, null=True)),
                ("rejected_note", models.CharField(blank=True, max_length=500)),
            ],
            options={
                "ordering": ("-raised_at", "-id"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["softened", "lost", "short_payment", "other"])),
                        name="claim_kind_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("estate_minor__gte", 0), ("estate_minor__lte", 1000000000000)),
                        name="claim_estate_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("estate_minor__isnull", True), ("rule", ""), ("shared_at__isnull", True)
                            ),
                            models.Q(
                                ("estate_minor__isnull", False),
                                ("rejected_at__isnull", True),
                                ("rule__in", ["proportional", "equal_awards", "equal_losses", "contested"]),
                                ("shared_at__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="claim_shared_by_a_rule_or_not_yet",
                        violation_error_message="A claim is shared once, by a rule, unless it was rejected.",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ClaimPart",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "claim",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="parts", to="coop.claim"
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="claim_parts",
                        to="coop.member",
                    ),
                ),
                ("claimed_minor", models.BigIntegerField()),
                ("awarded_minor", models.BigIntegerField(blank=True, null=True)),
            ],
            options={
                "verbose_name": "part of a claim",
                "verbose_name_plural": "parts of claims",
                "ordering": ("claim", "member"),
                "constraints": [
                    models.UniqueConstraint(fields=("claim", "member"), name="claim_part_once_a_member"),
                    models.CheckConstraint(
                        condition=models.Q(("claimed_minor__gte", 0), ("claimed_minor__lte", 1000000000000)),
                        name="claim_part_claimed_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("awarded_minor__gte", 0), ("awarded_minor__lte", 1000000000000)),
                        name="claim_part_awarded_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("awarded_minor__isnull", True),
                            ("awarded_minor__lte", models.F("claimed_minor")),
                            _connector="OR",
                        ),
                        name="claim_part_gets_at_most_what_it_claims",
                        violation_error_message="Nobody gets more than was claimed.",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Entry",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="entries", to="coop.member"
                    ),
                ),
                ("kind", models.CharField(max_length=10)),
                ("amount_minor", models.BigIntegerField()),
                (
                    "parcel",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="entries",
                        to="coop.parcel",
                    ),
                ),
                (
                    "claim",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="entries",
                        to="coop.claim",
                    ),
                ),
                (
                    "corrects",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="corrections",
                        to="coop.entry",
                    ),
                ),
                ("noted_on", models.DateField()),
                (
                    "written_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="entries_written",
                        to="coop.member",
                    ),
                ),
                ("written_at", models.DateTimeField()),
                ("note", models.CharField(blank=True, max_length=500)),
            ],
            options={
                "verbose_name_plural": "entries",
                "ordering": ("-noted_on", "-id"),
                "constraints": [
                    models.UniqueConstraint(fields=("corrects",), name="entry_corrected_once"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("kind__in", ["share", "payment", "payout", "proceeds", "claim", "correction"])
                        ),
                        name="entry_kind_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("amount_minor__gte", -1000000000000), ("amount_minor__lte", 1000000000000)
                        ),
                        name="entry_amount_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("kind__in", ("share", "correction")),
                            models.Q(("amount_minor__gt", 0), ("kind", "payout")),
                            models.Q(("amount_minor__lt", 0), ("kind", "payment")),
                            models.Q(("amount_minor__lte", 0), ("kind__in", ("proceeds", "claim"))),
                            _connector="OR",
                        ),
                        name="entry_has_the_sign_of_its_kind",
                        violation_error_message="What was paid in or is hers is negative, what was paid out is positive.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("kind__in", ("payment", "payout")),
                            models.Q(("kind__in", ("share", "proceeds")), ("parcel__isnull", False)),
                            models.Q(("claim__isnull", False), ("kind", "claim")),
                            models.Q(
                                ("kind", "correction"),
                                models.Q(
                                    ("corrects__isnull", False), ("parcel__isnull", False), _connector="OR"
                                ),
                            ),
                            _connector="OR",
                        ),
                        name="entry_names_what_it_is_about",
                        violation_error_message="A share names its parcel, an award its claim, a correction what it corrects.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("corrects__isnull", True), ("kind", "correction"), _connector="OR"
                        ),
                        name="entry_that_corrects_is_a_correction",
                        violation_error_message="Only a correction corrects another entry.",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Plan",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
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
                        on_delete=django.db.models.deletion.PROTECT, related_name="plans", to="coop.route"
                    ),
                ),
                (
                    "buyer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="plans", to="coop.buyer"
                    ),
                ),
                ("first_day", models.DateField()),
                ("last_day", models.DateField()),
                (
                    "asked_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="plans_asked",
                        to="coop.member",
                    ),
                ),
                ("asked_at", models.DateTimeField()),
                ("proposal", models.JSONField()),
                ("rests_on", models.CharField(blank=True, max_length=64)),
                ("cost_minor", models.BigIntegerField()),
                ("bound_minor", models.BigIntegerField()),
                ("gap", models.FloatField()),
                ("accepted_at", models.DateTimeField(blank=True, null=True)),
                (
                    "accepted_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="plans_accepted",
                        to="coop.member",
                    ),
                ),
            ],
            options={
                "ordering": ("-asked_at", "-id"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("cost_minor__gte", 0), ("cost_minor__lte", 1000000000000)),
                        name="plan_cost_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("bound_minor__gte", 0), ("bound_minor__lte", 1000000000000)),
                        name="plan_bound_minor_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("gap__gte", 0), ("gap__lte", 1000000)), name="plan_gap_range"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("last_day__gte", models.F("first_day"))),
                        name="plan_last_day_not_before_first",
                        violation_error_message="The last day is not before the first.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("accepted_at__isnull", True), ("accepted_by__isnull", True)),
                            models.Q(("accepted_at__isnull", False), ("accepted_by__isnull", False)),
                            _connector="OR",
                        ),
                        name="plan_accepted_by_somebody",
                        violation_error_message="A plan is accepted by somebody.",
                    ),
                ],
            },
        ),
    ]
