"""Whether what came in fits together: each row as its form wants it, kilograms, sums of money."""

from collections import defaultdict

from django.core.exceptions import ValidationError

from coop.errors import Invalid, Problem
from coop.models import (
    BillLine,
    Claim,
    ClaimPart,
    Entry,
    EntryKind,
    Lot,
    Parcel,
    ParcelCarton,
    Part,
    Quote,
    Share,
    Supply,
)
from coop.selectors.archive import is_history
from coop.services.archive_refusals import SAME_KG, promised, refusals

MOST_SHOWN = 100
FORM = "what its form accepts"


def require_sound(arrival):
    """Raises Invalid with what does not fit together of the rows that an Arrival has written."""
    problems = [*forms(arrival), *kilograms(arrival), *money(arrival), *refusals(arrival)]
    if problems:
        first, more = problems[0], len(problems) - 1
        rest = f" (and {more} more)" if more else ""
        raise Invalid(f"{first.field}: {first.problem}{rest}.", *problems[:MOST_SHOWN])


def forms(arrival):
    for model in (model for model in arrival.rows if not is_history(model)):
        for where, row in arrival.named(model):
            try:
                row.clean_fields(exclude=excluded(model))
                row.clean()
            except ValidationError as odd:
                for field, errors in odd.update_error_dict({}).items():
                    words = " ".join(message for error in errors for message in error.messages)
                    yield Problem(f"{where}, {field}", str(getattr(row, field, None)), words, FORM)


def excluded(model):
    """References were found by name already: to ask the database for each again would take long."""
    return [field.name for field in model._meta.concrete_fields if field.is_relation]


def too_much(where, row, is_kg, there_is):
    return Problem(where, f"{is_kg:g} kg", f"is more than there is of {row}", f"at most {there_is:g} kg")


def kilograms(arrival):
    """Parts within their carton, quotes within their supply, and both together within their lot."""
    carton_kg, lot_kg, sold_kg = defaultdict(float), defaultdict(float), defaultdict(float)
    lot_kg.update(promised(arrival))
    for part in arrival.rows[Part]:
        carton_kg[part.carton_id] += part.mass_kg
        lot_kg[part.lot_id] += part.mass_kg
    for quote in arrival.rows[Quote]:
        sold_kg[quote.supply_id] += quote.accepted_kg or 0
    for model, name, sums, column in (
        (ParcelCarton, "part.jsonl", carton_kg, "capacity_kg"),
        (Lot, "part.jsonl and quote.jsonl", lot_kg, "mass_kg"),
        (Supply, "quote.jsonl", sold_kg, "mass_kg"),
    ):
        for where, row in arrival.named(model):
            there_is = stored_kg(row, column)
            if sums[row.pk] > there_is + SAME_KG:
                yield too_much(f"{name}, of {where}", row, sums[row.pk], there_is)


def stored_kg(row, column):
    """A carton's own mass is worked out, so its column is asked for by name."""
    return row.__dict__[column]


def money(arrival):
    """The lines of a bill, the shares of it by every rule, and what is booked of it are one sum each."""
    billed, shared, booked = defaultdict(int), defaultdict(int), defaultdict(int)
    for line in arrival.rows[BillLine]:
        billed[line.parcel_id] += line.amount_minor
    for share in arrival.rows[Share]:
        shared[share.parcel_id, share.rule] += share.amount_minor
    for entry in arrival.rows[Entry]:
        if entry.kind == EntryKind.SHARE:
            booked[entry.parcel_id] += entry.amount_minor
    parcels = {row.pk: (where, row.sharing_rule) for where, row in arrival.named(Parcel)}
    for (parcel, rule), amount in shared.items():
        of, in_force = parcels[parcel]
        if amount != billed[parcel]:
            right, words = str(billed[parcel]), "is not the sum of the bill"
            yield Problem(f"share.jsonl, of {of}", f"{rule}: {amount}", words, right)
        if rule == in_force and amount != booked[parcel]:
            words = "is not the sum of the shares"
            yield Problem(f"entry.jsonl, of {of}", str(booked[parcel]), words, str(amount))
    yield from awards(arrival)


def awards(arrival):
    awarded = defaultdict(int)
    for part in arrival.rows[ClaimPart]:
        awarded[part.claim_id] += part.awarded_minor or 0
    for where, claim in arrival.named(Claim):
        if claim.estate_minor is not None and awarded[claim.pk] > claim.estate_minor:
            amount, right = str(awarded[claim.pk]), str(claim.estate_minor)
            yield Problem(f"claimpart.jsonl, of {where}", amount, "is more than was got back", right)
