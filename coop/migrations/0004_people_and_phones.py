"""Who a member is (role, account, whether she left), which phones are enrolled, and the codes for that."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from coop.migrations._refusals import Refusal, refuse_rows, restore_rows

# (column of a code, table that it names)
POINTS_AT = (("member", "member"), ("issued_by", "member"), ("phone", "phone"))


def owner(table, column):
    return f"(SELECT cooperative_id FROM coop_{table} WHERE id = NEW.{column})"


def stays(table):
    return Refusal(
        f"{table}_stays_with_its_cooperative",
        f"coop_{table}",
        "UPDATE OF cooperative_id",
        "NEW.cooperative_id <> OLD.cooperative_id",
    )


def on_writing(name, table, condition):
    return [Refusal(name, f"coop_{table}", event, condition) for event in ("INSERT", "UPDATE")]


# SQLite rebuilds the table of members for its new columns.
REBUILT = (stays("member"),)
REFUSALS = (
    stays("phone"),
    stays("enrolmentcode"),
    *(
        refusal
        for name, table in POINTS_AT
        for refusal in on_writing(
            f"enrolmentcode_{name}_of_its_cooperative",
            "enrolmentcode",
            f"{owner(table, f'{name}_id')} <> NEW.cooperative_id",
        )
    ),
    # A token of somebody who is no member finds no cooperative, which is none either.
    *on_writing(
        "phonetoken_user_of_its_cooperative",
        "phonetoken",
        "COALESCE((SELECT cooperative_id FROM coop_member WHERE account_id = NEW.user_id), 0) <> "
        f"{owner('phone', 'phone_id')}",
    ),
)


def owned_by_a_cooperative():
    return models.ForeignKey(
        on_delete=django.db.models.deletion.PROTECT, related_name="%(class)ss", to="coop.cooperative"
    )


def points_at(table, related_name, **options):
    return models.ForeignKey(
        on_delete=django.db.models.deletion.PROTECT,
        related_name=related_name,
        to=f"coop.{table}",
        **options,
    )


class Migration(migrations.Migration):
    dependencies = (
        ("coop", "0003_refuse_strangers"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    )
    operations = (
        restore_rows(REBUILT),
        migrations.AddField(
            model_name="member",
            name="account",
            field=models.OneToOneField(
                blank=True,
                editable=False,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="member",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="member", name="left_on", field=models.DateField(blank=True, null=True)
        ),
        migrations.AddField(
            model_name="member", name="role", field=models.CharField(default="member", max_length=8)
        ),
        migrations.AddConstraint(
            model_name="member",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("left_on__isnull", True), ("left_on__gte", models.F("joined_on")), _connector="OR"
                ),
                name="member_leaves_after_joining",
                violation_error_message="Nobody leaves before the day of joining.",
            ),
        ),
        migrations.AddConstraint(
            model_name="member",
            constraint=models.CheckConstraint(
                condition=models.Q(("role__in", ["member", "packer", "manager"])), name="member_role_known"
            ),
        ),
        migrations.CreateModel(
            name="Phone",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("cooperative", owned_by_a_cooperative()),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("name", models.CharField(max_length=60)),
                ("enrolled_at", models.DateTimeField()),
                ("revoked_at", models.DateTimeField(blank=True, null=True)),
            ],
            options={"ordering": ("name", "id")},
        ),
        migrations.CreateModel(
            name="EnrolmentCode",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("cooperative", owned_by_a_cooperative()),
                ("member", points_at("member", "enrolment_codes")),
                ("digest", models.CharField(editable=False, max_length=64, unique=True)),
                ("issued_by", points_at("member", "issued_codes", blank=True, null=True)),
                ("issued_at", models.DateTimeField()),
                ("expires_at", models.DateTimeField()),
                ("used_at", models.DateTimeField(blank=True, null=True)),
                ("phone", points_at("phone", "enrolment_codes", blank=True, null=True)),
            ],
            options={"ordering": ("expires_at", "id")},
        ),
        migrations.AddConstraint(
            model_name="enrolmentcode",
            constraint=models.CheckConstraint(
                condition=models.Q(("expires_at__gt", models.F("issued_at"))),
                name="enrolment_code_counts_for_a_while",
                violation_error_message="A code counts for some time.",
            ),
        ),
        migrations.AddConstraint(
            model_name="enrolmentcode",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("phone__isnull", True), ("used_at__isnull", True)),
                    models.Q(("phone__isnull", False), ("used_at__isnull", False)),
                    _connector="OR",
                ),
                name="enrolment_code_was_used_on_a_phone",
                violation_error_message="A used code names its phone.",
            ),
        ),
        migrations.CreateModel(
            name="PhoneToken",
            fields=[
                ("digest", models.CharField(max_length=128, primary_key=True, serialize=False)),
                ("token_key", models.CharField(db_index=True, max_length=25)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("expiry", models.DateTimeField(blank=True, null=True)),
                (
                    "phone",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="tokens",
                        to="coop.phone",
                    ),
                ),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="auth_token_set",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.AddConstraint(
            model_name="phonetoken",
            constraint=models.UniqueConstraint(fields=("phone", "user"), name="phone_token_once_a_holder"),
        ),
        refuse_rows(REFUSALS),
        restore_rows(REBUILT),
    )
