"""Whether what came in fits together: each row as its form wants it, kilograms, sums of money."""

from collections import defaultdict

from django.core.exceptions import ValidationError

from coop.errors import Invalid, Problem
from coop.models import (
    BillLine,
    ClaimPart,
    Entry,
    EntryKind,
    Lot,
    Parcel,
    ParcelCarton,
    ParcelState,
    Part,
    Quote,
    Share,
    Supply,
)
from coop.selectors.archive import is_history

SAME_KG = 0.000001
MOST_SHOWN = 100
FORM = "what its form accepts"


def require_sound(arrival):
    """Raises Invalid with what does not fit together of the rows that an Arrival has written."""
    problems = [*forms(arrival), *kilograms(arrival), *money(arrival)]
    if problems:
        first, more = problems[0], len(problems) - 1
        rest = f" (and {more} more)" if more else ""
        raise Invalid(f"{first.field}: {first.problem}{rest}.", *problems[:MOST_SHOWN])


def forms(arrival):
    for model, rows in arrival.rows.items():
        for number, row in enumerate([] if is_history(model) else rows, 1):
            try:
                row.clean_fields(exclude=excluded(model))
                row.clean()
            except ValidationError as odd:
                where = f"{model._meta.model_name}.jsonl line {number}"
                for field, errors in odd.update_error_dict({}).items():
                    words = " ".join(message for error in errors for message in error.messages)
                    yield Problem(f"{where}, {field}", str(getattr(row, field, None)), words, FORM)


def excluded(model):
    """References were found by name already: to ask the database for each again would take long."""
    return [field.name for field in model._meta.concrete_fields if field.is_relation]


def too_much(name, row, is_kg, there_is):
    return Problem(name, f"{is_kg:g} kg", f"is more than there is of {row}", f"at most {there_is:g} kg")


def kilograms(arrival):
    """Parts within carton and lot, quotes within their supply; cartons closed with their parcel."""
    carton_kg, lot_kg, sold_kg = defaultdict(float), defaultdict(float), defaultdict(float)
    for part in arrival.rows[Part]:
        carton_kg[part.carton_id] += part.mass_kg
        lot_kg[part.lot_id] += part.mass_kg
    for quote in arrival.rows[Quote]:
        sold_kg[quote.supply_id] += quote.accepted_kg or 0
    for model, name, sums, column in (
        (ParcelCarton, "part.jsonl", carton_kg, "capacity_kg"),
        (Lot, "part.jsonl", lot_kg, "mass_kg"),
        (Supply, "quote.jsonl", sold_kg, "mass_kg"),
    ):
        for row in arrival.rows[model]:
            there_is = stored_kg(row, column)
            if sums[row.pk] > there_is + SAME_KG:
                yield too_much(name, row, sums[row.pk], there_is)
    yield from open_cartons(arrival)


def stored_kg(row, column):
    """A carton's own mass is worked out, so its column is asked for by name."""
    return row.__dict__[column]


def open_cartons(arrival):
    parcels = {row.pk: row for row in arrival.rows[Parcel]}
    for carton in arrival.rows[ParcelCarton]:
        parcel = parcels[carton.parcel_id]
        if parcel.state != ParcelState.OPEN and carton.closed_at is None:
            yield Problem("parcelcarton.jsonl", str(carton), "is open in a closed parcel", "a closed one")


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
    rules = {row.pk: row.sharing_rule for row in arrival.rows[Parcel]}
    for (parcel, rule), amount in shared.items():
        if amount != billed[parcel]:
            yield Problem(
                "share.jsonl", f"{rule}: {amount}", "is not the sum of the bill", str(billed[parcel])
            )
        if rule == rules[parcel] and amount != booked[parcel]:
            yield Problem("entry.jsonl", str(booked[parcel]), "is not the sum of the shares", str(amount))
    yield from awards(arrival)


def awards(arrival):
    awarded = defaultdict(int)
    for part in arrival.rows[ClaimPart]:
        awarded[part.claim] += part.awarded_minor or 0
    for claim, amount in awarded.items():
        if claim.estate_minor is not None and amount > claim.estate_minor:
            yield Problem(
                "claimpart.jsonl", str(amount), "is more than was got back", str(claim.estate_minor)
            )
