"""The bill of a parcel becomes money: lines, shares and what each member owes, written once."""

from coop.errors import Conflict, Problem
from coop.models import Entry, EntryKind, Share, Stability
from coop.selectors.parcel_judgement import local_day
from coop.selectors.split import Split, open_split
from coop.services.writing import written


def bill_to_write(parcel) -> Split:
    """The split of a parcel that is about to close; refused where it cannot be billed."""
    split = open_split(parcel)
    if split.missing:
        wanted = "; ".join(split.missing)
        raise Conflict(
            f"The parcel cannot be billed: there is no {wanted}.",
            Problem(
                "parcel", str(parcel.uuid), f"cannot be billed without {wanted}", "every price of its day"
            ),
        )
    return split


def write_bill(parcel, split: Split, *, by, at):
    """Writes lines, shares by every rule, and the entries of the rule that counts; the parcel is closed."""
    for line in split.lines:
        line.parcel = parcel
        written(line)
    for found in split.rules:
        for portion, amount in zip(split.portions, found.amounts_minor, strict=True):
            written(share_of(parcel, portion, found.rule, amount))
        written(stability_of(parcel, found, split))
    for portion, amount in zip(split.portions, split.in_force.amounts_minor, strict=True):
        written(entry_of(parcel, portion, amount, by=by, at=at))


def share_of(parcel, portion, rule, amount):
    return Share(
        parcel=parcel,
        member=portion.member,
        rule=rule,
        mass_kg=portion.mass_kg,
        amount_minor=amount,
        alone_minor=portion.alone_minor,
    )


def stability_of(parcel, found, split):
    return Stability(
        parcel=parcel,
        rule=found.rule,
        core_is_empty=split.core_is_empty,
        leaves=[member.pk for member in found.leaves],
        gain_minor=found.gain_minor,
    )


def entry_of(parcel, portion, amount, *, by, at):
    return Entry(
        cooperative_id=parcel.cooperative_id,
        member=portion.member,
        kind=EntryKind.SHARE,
        amount_minor=amount,
        parcel=parcel,
        noted_on=local_day(parcel),
        written_by=by,
        written_at=at,
    )
