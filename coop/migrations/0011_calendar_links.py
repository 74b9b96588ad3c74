"""Secret addresses for calendars; each stays with its cooperative, and so does whom it is for."""

import uuid

import django.db.models.deletion
from django.db import migrations, models

from coop.migrations._refusals import Refusal, refuse_rows

REFUSALS = (
    Refusal(
        "calendarlink_stays_with_its_cooperative",
        "coop_calendarlink",
        "UPDATE OF cooperative_id",
        "NEW.cooperative_id <> OLD.cooperative_id",
    ),
    *(
        Refusal(
            "calendarlink_member_of_its_cooperative",
            "coop_calendarlink",
            event,
            "(SELECT cooperative_id FROM coop_member WHERE id = NEW.member_id) <> NEW.cooperative_id",
        )
        for event in ("INSERT", "UPDATE")
    ),
)


class Migration(migrations.Migration):
    dependencies = (("coop", "0010_quotes"),)
    operations = (
        migrations.CreateModel(
            name="CalendarLink",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("secret_digest", models.CharField(editable=False, max_length=64, unique=True)),
                ("created_at", models.DateTimeField()),
                ("revoked_at", models.DateTimeField(blank=True, null=True)),
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
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="calendar_links",
                        to="coop.member",
                    ),
                ),
            ],
            options={"ordering": ("-created_at", "-id")},
        ),
        refuse_rows(REFUSALS),
    )
