"""What a phone wrote, and the answer that it got; each stays with its cooperative, and so does who wrote it."""

import django.db.models.deletion
from django.db import migrations, models

from coop.migrations._refusals import Refusal, refuse_rows

REFUSALS = (
    Refusal(
        "write_stays_with_its_cooperative",
        "coop_write",
        "UPDATE OF cooperative_id",
        "NEW.cooperative_id <> OLD.cooperative_id",
    ),
    *(
        Refusal(
            "write_member_of_its_cooperative",
            "coop_write",
            event,
            "(SELECT cooperative_id FROM coop_member WHERE id = NEW.member_id) <> NEW.cooperative_id",
        )
        for event in ("INSERT", "UPDATE")
    ),
)


class Migration(migrations.Migration):
    dependencies = (("coop", "0013_what_phones_were_given"),)
    operations = (
        migrations.CreateModel(
            name="Write",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.UUIDField(editable=False)),
                ("fingerprint", models.CharField(editable=False, max_length=64)),
                ("status", models.IntegerField(default=0)),
                ("body", models.TextField(blank=True)),
                ("made_at", models.DateTimeField(db_index=True)),
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
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="writes",
                        to="coop.member",
                    ),
                ),
            ],
            options={
                "ordering": ("-made_at", "-id"),
                "constraints": [
                    models.UniqueConstraint(fields=("member", "key"), name="write_once_a_key_of_a_member")
                ],
            },
        ),
        refuse_rows(REFUSALS),
    )
