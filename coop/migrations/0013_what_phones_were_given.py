"""What a phone was given under its last cursors, so that next time only what changed is sent."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("coop", "0012_quotes_of_a_lot"),
    ]

    operations = [
        migrations.CreateModel(
            name="Kept",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("cursor", models.CharField(max_length=64)),
                ("given", models.JSONField()),
                ("given_at", models.DateTimeField()),
                (
                    "token",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="kept",
                        to=settings.KNOX_TOKEN_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("-given_at", "-id"),
                "constraints": [
                    models.UniqueConstraint(fields=("token", "cursor"), name="kept_once_a_cursor")
                ],
            },
        ),
    ]
