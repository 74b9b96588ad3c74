"""Quotes and the fish that they draw on: what was issued or answered never changes, and nothing is sold twice."""

import uuid

import django.db.models.deletion
from django.db import migrations, models

from coop.migrations._refusals import Refusal, refuse_rows

# Masses are floats: what is less than a milligram apart is the same.
SAME_KG = 0.000001
# (table, column, table that it names)
POINTS_AT = (
    ("supply", "member", "member"),
    ("supply", "entered_by", "member"),
    ("quote", "supply", "supply"),
    ("quote", "buyer", "buyer"),
    ("quote", "route", "route"),
    ("quote", "timetable", "timetable"),
    ("quote", "design", "cartondesign"),
    ("quote", "made_by", "member"),
    ("quote", "lot", "lot"),
    ("quote", "parcel", "parcel"),
)
ISSUED = (
    "uuid",
    "supply_id",
    "buyer_id",
    "route_id",
    "timetable_id",
    "design_id",
    "made_by_id",
    "departs_at",
    "becomes",
    "issued_at",
    "valid_until",
    "language",
    "profit_kind",
    "profit_share",
    "least_kg",
    "most_kg",
    "figures",
)
ANSWER = ("answered_at", "accepted_kg", "lot_id", "revoked_at")


def on(event, name, table, condition="TRUE"):
    return Refusal(name, f"coop_{table}", event, condition)


def differ(*columns, nullable=()):
    """Whether one of these columns is written anew."""
    changed = [f"NEW.{column} <> OLD.{column}" for column in (*columns, *nullable)]
    emptied = [f"(NEW.{column} IS NULL) <> (OLD.{column} IS NULL)" for column in nullable]
    return f"({' OR '.join(changed + emptied)})"


def stranger(table, column, target):
    owner = f"(SELECT cooperative_id FROM coop_{target} WHERE id = NEW.{column}_id)"
    name = f"{table}_{column}_of_its_cooperative"
    return [on(event, name, table, f"{owner} <> NEW.cooperative_id") for event in ("INSERT", "UPDATE")]


def sold(besides=""):
    """Whether all that was accepted of a supply is more than there is."""
    others = f"supply_id = NEW.supply_id AND state = 'accepted'{besides}"
    return (
        "NEW.state = 'accepted' AND NEW.accepted_kg + "
        f"(SELECT COALESCE(SUM(accepted_kg), 0) FROM coop_quote WHERE {others})"
        f" > (SELECT mass_kg FROM coop_supply WHERE id = NEW.supply_id) + {SAME_KG}"
    )


REFUSALS = (
    *(refusal for one in POINTS_AT for refusal in stranger(*one)),
    *(
        on("UPDATE OF cooperative_id", f"{table}_stays_with_its_cooperative", table, differ("cooperative_id"))
        for table in ("supply", "quote")
    ),
    on("UPDATE", "supply_never_changes", "supply"),
    on("INSERT", "quote_begins_issued", "quote", "NEW.state <> 'issued'"),
    on("UPDATE", "quote_figures_never_change", "quote", differ(*ISSUED)),
    on(
        "UPDATE",
        "quote_answered_stays",
        "quote",
        f"OLD.state <> 'issued' AND {differ('state', 'answered_by_name', 'note', nullable=ANSWER)}",
    ),
    # A parcel that is given up is named no more; no other ever takes its place.
    on(
        "UPDATE",
        "quote_parcel_stays",
        "quote",
        "OLD.state <> 'issued' AND NEW.parcel_id IS NOT NULL"
        " AND (OLD.parcel_id IS NULL OR NEW.parcel_id <> OLD.parcel_id)",
    ),
    on("UPDATE", "quote_within_its_supply", "quote", sold(" AND id <> OLD.id")),
    on("INSERT", "quote_within_its_supply", "quote", sold()),
    on("DELETE", "quote_never_vanishes", "quote"),
    on("UPDATE", "quote_question_never_changes", "quotequestion"),
    on("DELETE", "quote_question_never_vanishes", "quotequestion"),
)


class Migration(migrations.Migration):
    dependencies = [
        ("coop", "0009_history"),
    ]

    operations = [
        migrations.CreateModel(
            name="Supply",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("mass_kg", models.FloatField()),
                ("frozen_since", models.DateTimeField()),
                ("ready_at", models.DateTimeField()),
                ("start_temperature_c", models.FloatField()),
                ("entered_at", models.DateTimeField()),
                (
                    "cooperative",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="%(class)ss",
                        to="coop.cooperative",
                    ),
                ),
                (
                    "entered_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="supplies_entered",
                        to="coop.member",
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="supplies", to="coop.member"
                    ),
                ),
                (
                    "species",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="supplies",
                        to="coop.species",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "supplies",
                "ordering": ("-entered_at", "-id"),
            },
        ),
        migrations.CreateModel(
            name="Quote",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("departs_at", models.DateTimeField()),
                ("becomes", models.CharField(max_length=6)),
                ("issued_at", models.DateTimeField()),
                ("valid_until", models.DateTimeField()),
                ("language", models.CharField(max_length=2)),
                ("profit_kind", models.CharField(max_length=7)),
                ("profit_share", models.FloatField()),
                ("least_kg", models.FloatField()),
                ("most_kg", models.FloatField()),
                ("figures", models.JSONField(editable=False)),
                ("state", models.CharField(default="issued", max_length=8)),
                ("secret_digest", models.CharField(editable=False, max_length=64, unique=True)),
                ("answered_at", models.DateTimeField(blank=True, null=True)),
                ("accepted_kg", models.FloatField(blank=True, null=True)),
                ("answered_by_name", models.CharField(blank=True, max_length=120)),
                ("note", models.CharField(blank=True, max_length=500)),
                ("revoked_at", models.DateTimeField(blank=True, null=True)),
                (
                    "buyer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="quotes", to="coop.buyer"
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
                    "design",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="quotes",
                        to="coop.cartondesign",
                    ),
                ),
                (
                    "lot",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="quotes",
                        to="coop.lot",
                    ),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="quotes_made",
                        to="coop.member",
                    ),
                ),
                (
                    "parcel",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="quotes",
                        to="coop.parcel",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="quotes", to="coop.route"
                    ),
                ),
                (
                    "timetable",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="quotes",
                        to="coop.timetable",
                    ),
                ),
                (
                    "supply",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="quotes", to="coop.supply"
                    ),
                ),
            ],
            options={
                "ordering": ("-issued_at", "-id"),
            },
        ),
        migrations.CreateModel(
            name="QuoteQuestion",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("asked_at", models.DateTimeField()),
                ("name", models.CharField(blank=True, max_length=120)),
                ("text", models.CharField(max_length=500)),
                (
                    "quote",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="questions", to="coop.quote"
                    ),
                ),
            ],
            options={
                "verbose_name": "question about a quote",
                "verbose_name_plural": "questions about a quote",
                "ordering": ("quote", "asked_at", "id"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("quote", "asked_at"), name="quote_question_once_at_a_time"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("text", ""), _negated=True),
                        name="quote_question_says_something",
                        violation_error_message="A question says something.",
                    ),
                ],
            },
        ),
        migrations.AddConstraint(
            model_name="supply",
            constraint=models.CheckConstraint(
                condition=models.Q(("mass_kg__gte", 0.1), ("mass_kg__lte", 5000)), name="supply_mass_kg_range"
            ),
        ),
        migrations.AddConstraint(
            model_name="supply",
            constraint=models.CheckConstraint(
                condition=models.Q(("start_temperature_c__gte", -45), ("start_temperature_c__lte", -2.5)),
                name="supply_start_temperature_c_range",
            ),
        ),
        migrations.AddConstraint(
            model_name="supply",
            constraint=models.CheckConstraint(
                condition=models.Q(("ready_at__gte", models.F("frozen_since"))),
                name="supply_ready_after_freezing",
                violation_error_message="It is not ready before it is frozen.",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("state__in", ["issued", "accepted", "declined", "revoked"])),
                name="quote_state_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("becomes__in", ["lot", "parcel"])), name="quote_becomes_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("profit_kind__in", ["mark_up", "margin"])), name="quote_profit_kind_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("language__in", ["en", "fr", "mg", "sw"])), name="quote_language_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("profit_share__gte", 0), ("profit_share__lte", 10)),
                name="quote_profit_share_range",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("least_kg__gte", 0.1), ("least_kg__lte", 5000)),
                name="quote_least_kg_range",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("most_kg__gte", 0.1), ("most_kg__lte", 5000)), name="quote_most_kg_range"
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("accepted_kg__gte", 0.1), ("accepted_kg__lte", 5000)),
                name="quote_accepted_kg_range",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("profit_kind", "margin"), _negated=True),
                    ("profit_share__lte", 0.95),
                    _connector="OR",
                ),
                name="quote_margin_is_below_the_price",
                violation_error_message="A margin is less than the whole price.",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(("least_kg__lte", models.F("most_kg"))),
                name="quote_begins_with_the_least",
                violation_error_message="It begins with the least.",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("valid_until__gt", models.F("issued_at")), ("valid_until__lte", models.F("departs_at"))
                ),
                name="quote_counts_for_a_while",
                violation_error_message="It is valid for some time, and not after it leaves.",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(
                        ("accepted_kg__isnull", True),
                        ("answered_at__isnull", True),
                        ("lot__isnull", True),
                        ("revoked_at__isnull", True),
                        ("state", "issued"),
                    ),
                    models.Q(
                        ("accepted_kg__isnull", True),
                        ("answered_at__isnull", True),
                        ("lot__isnull", True),
                        ("revoked_at__isnull", False),
                        ("state", "revoked"),
                    ),
                    models.Q(
                        ("accepted_kg__isnull", True),
                        ("answered_at__isnull", False),
                        ("lot__isnull", True),
                        ("revoked_at__isnull", True),
                        ("state", "declined"),
                    ),
                    models.Q(
                        ("accepted_kg__isnull", False),
                        ("answered_at__isnull", False),
                        ("lot__isnull", False),
                        ("revoked_at__isnull", True),
                        ("state", "accepted"),
                    ),
                    _connector="OR",
                ),
                name="quote_state_agrees_with_its_answer",
                violation_error_message="The state of a quote agrees with how it was answered.",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("state", "accepted"), _negated=True),
                    models.Q(
                        ("accepted_kg__gte", models.F("least_kg")),
                        ("accepted_kg__lte", models.F("most_kg")),
                        ("answered_at__gte", models.F("issued_at")),
                        ("answered_at__lt", models.F("valid_until")),
                    ),
                    _connector="OR",
                ),
                name="quote_accepted_while_it_was_valid",
                violation_error_message="It is accepted while it is valid, and for as many kilograms as it offers.",
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("parcel__isnull", True),
                    models.Q(("becomes", "parcel"), ("state", "accepted")),
                    _connector="OR",
                ),
                name="quote_parcel_of_an_accepted_one",
                violation_error_message="Only an accepted quote that was to become one has a parcel.",
            ),
        ),
        refuse_rows(REFUSALS),
    ]
