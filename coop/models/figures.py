"""Where a figure comes from."""

from django.db import models

from coop.models.columns import Text
from coop.models.measures import known, rule


class Figures(models.TextChoices):
    READ = "read", "read in a source"
    ESTIMATED = "estimated", "estimated"
    INVENTED = "invented", "invented, for a demonstration only"


def figures_field(label, **options):
    return Text(label, max_length=10, choices=Figures.choices, default=Figures.ESTIMATED, **options)


class Figured(models.Model):
    figures = figures_field("these figures are", help_text="whether they were read, estimated or invented")
    source = Text(
        "source", max_length=300, blank=True, help_text="author, year and table, or how it was estimated"
    )

    class Meta:
        abstract = True


def sourced(table):
    return [
        *known(table, figures=Figures),
        rule(
            f"{table}_read_names_its_source",
            ~models.Q(figures=Figures.READ) | ~models.Q(source=""),
            "A figure that was read names its source.",
        ),
    ]
