"""A closed parcel that does not leave is called off, once, and that never changes.

SQLite rebuilds the table of parcels for its new checks, and stops at triggers of others that name it: all of
`0006_refuse_changes_of_what_is_closed` are taken back first, and made again at the end.
"""

from importlib import import_module

from django.db import migrations, models

from coop.migrations._refusals import Refusal, allow_rows, refuse_rows

BEFORE = import_module("coop.migrations.0006_refuse_changes_of_what_is_closed")
FORWARD = (*BEFORE.FORWARD, "closed>called_off")


def with_the_new_step(refusal):
    if refusal.name != "parcel_goes_forward":
        return refusal
    return refusal._replace(condition=refusal.condition.replace(str(BEFORE.FORWARD), str(FORWARD)))


REFUSALS = (
    *(with_the_new_step(refusal) for refusal in BEFORE.REFUSALS),
    Refusal(
        "parcel_call_off_stays",
        "coop_parcel",
        "UPDATE",
        "OLD.called_off_at IS NOT NULL AND " + BEFORE.differ("called_off_note", nullable=["called_off_at"]),
    ),
)


def in_state(state, *, closed=False, departed=False, handed_over=False, settled=False, called_off=False):
    times = {
        "called_off": called_off,
        "closed": closed,
        "departed": departed,
        "handed_over": handed_over,
        "settled": settled,
    }
    return models.Q(state=state, **{f"{name}_at__isnull": not known for name, known in times.items()})


class Migration(migrations.Migration):
    dependencies = (("coop", "0006_refuse_changes_of_what_is_closed"),)
    operations = (
        allow_rows(BEFORE.REFUSALS),
        migrations.RemoveConstraint(model_name="parcel", name="parcel_state_known"),
        migrations.RemoveConstraint(model_name="parcel", name="parcel_state_agrees_with_its_times"),
        migrations.AddField(
            model_name="parcel",
            name="called_off_at",
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="parcel",
            name="called_off_note",
            field=models.CharField(blank=True, max_length=500),
        ),
        migrations.AddConstraint(
            model_name="parcel",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    state__in=["open", "closed", "departed", "handed_over", "settled", "called_off"]
                ),
                name="parcel_state_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="parcel",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    in_state("open"),
                    in_state("closed", closed=True),
                    in_state("departed", closed=True, departed=True),
                    in_state("handed_over", closed=True, departed=True, handed_over=True),
                    in_state("settled", closed=True, departed=True, handed_over=True, settled=True),
                    in_state("called_off", closed=True, called_off=True),
                    _connector="OR",
                ),
                name="parcel_state_agrees_with_its_times",
                violation_error_message="The state of a parcel agrees with the times that are written down.",
            ),
        ),
        migrations.AddConstraint(
            model_name="parcel",
            constraint=models.CheckConstraint(
                condition=models.Q(called_off_at__isnull=True)
                | models.Q(called_off_at__gte=models.F("closed_at")),
                name="parcel_called_off_after_closing",
                violation_error_message="It is called off after it is closed.",
            ),
        ),
        migrations.AddConstraint(
            model_name="parcel",
            constraint=models.CheckConstraint(
                condition=models.Q(called_off_at__isnull=True, called_off_note="")
                | (models.Q(called_off_at__isnull=False) & ~models.Q(called_off_note="")),
                name="parcel_called_off_says_why",
                violation_error_message="Whoever calls it off says why.",
            ),
        ),
        refuse_rows(REFUSALS),
    )
