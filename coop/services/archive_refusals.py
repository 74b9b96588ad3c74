"""Whether rows that came in past the triggers are such as those would have let in.

What triggers say of how a row may change says nothing of one that only lies there. Of what they say of a row
beside others, `archive_rows` finds overlaps before they are written, the forms find strangers, and
`archive_checks` sums; the rest is here.
"""

from collections import defaultdict

from coop.errors import Problem
from coop.models import (
    BillLine,
    Claim,
    ClaimPart,
    Entry,
    Lot,
    Parcel,
    ParcelCarton,
    ParcelState,
    Part,
    Quote,
    Share,
    Stability,
    Supply,
)

# Masses are floats: what is less than a milligram apart is the same.
SAME_KG = 0.000001


def refusals(arrival):
    """Problems of the rows that an Arrival has written, each with the line of its row."""
    for found in (parts, lots, cartons, parcels, bills, corrections, claims, supplies):
        yield from found(arrival)


def parts(arrival):
    """A part goes the way of its lot."""
    lots_by, cartons_by, parcels_by = (by_number(arrival, model) for model in (Lot, ParcelCarton, Parcel))
    for where, part in arrival.named(Part):
        lot, parcel = lots_by[part.lot_id], parcels_by[cartons_by[part.carton_id].parcel_id]
        if (lot.route_id, lot.buyer_id) != (parcel.route_id, parcel.buyer_id):
            yield Problem(where, str(parcel), "goes another way than its lot", f"a parcel to {lot.buyer}")


def lots(arrival):
    """Unless it may be split all that is not promised lies in one carton; if withdrawn, in a closed one."""
    cartons_by, lying = by_number(arrival, ParcelCarton), grouped(arrival.rows[Part], "lot_id")
    promised_kg = promised(arrival)
    for where, lot in arrival.named(Lot):
        there, left_kg = lying[lot.pk], lot.mass_kg - promised_kg[lot.pk]
        masses = [part.mass_kg for part in there]
        whole = len(masses) == 1 and abs(masses[0] - left_kg) <= SAME_KG
        if masses and not lot.may_be_split and not whole:
            kg = " + ".join(f"{mass:g}" for mass in masses)
            right = f"all {left_kg:g} kg in one carton, or a lot that may be split"
            yield Problem(where, f"{kg} kg", "is split without its owner's consent", right)
        if lot.withdrawn_at and any(cartons_by[part.carton_id].closed_at is None for part in there):
            yield Problem(where, str(lot.withdrawn_at), "is withdrawn and in an open carton", "not both")


def cartons(arrival):
    """A closed one has fish in it, and an open one lies in an open parcel."""
    parcels_by, lying = by_number(arrival, Parcel), grouped(arrival.rows[Part], "carton_id")
    for where, carton in arrival.named(ParcelCarton):
        if carton.closed_at and not lying[carton.pk]:
            yield Problem(where, str(carton), "is closed without fish", "an open one, or parts in it")
        if not carton.closed_at and parcels_by[carton.parcel_id].state != ParcelState.OPEN:
            yield Problem(where, str(carton), "is open in a closed parcel", "a closed one")


def parcels(arrival):
    """One that is closed has cartons."""
    lying = grouped(arrival.rows[ParcelCarton], "parcel_id")
    for where, parcel in arrival.named(Parcel):
        if parcel.state != ParcelState.OPEN and not lying[parcel.pk]:
            yield Problem(where, parcel.state, "is closed without a carton", "a carton of it at least")


def bills(arrival):
    """What is billed and shared is closed."""
    parcels_by = by_number(arrival, Parcel)
    for model in (BillLine, Share, Stability):
        for where, row in arrival.named(model):
            parcel = parcels_by[row.parcel_id]
            if parcel.state == ParcelState.OPEN:
                yield Problem(where, str(parcel), "is of a parcel that is open", "a parcel that is closed")


def corrections(arrival):
    """An entry corrects one of the same member."""
    entries = by_number(arrival, Entry)
    for where, entry in arrival.named(Entry):
        corrected = entries.get(entry.corrects_id)
        if corrected and corrected.member_id != entry.member_id:
            yield Problem(where, str(entry.member), "corrects an entry of another", str(corrected.member))


def claims(arrival):
    """What was shared says what each gets."""
    shared = {claim.pk for claim in arrival.rows[Claim] if claim.shared_at}
    for where, part in arrival.named(ClaimPart):
        if part.claim_id in shared and part.awarded_minor is None:
            yield Problem(where, str(part.member), "has no award of a claim that was shared", "0 or more")


def supplies(arrival):
    """What is taken from a lot is of the same member."""
    lots_by = by_number(arrival, Lot)
    for where, supply in arrival.named(Supply):
        lot = lots_by.get(supply.lot_id)
        if lot and lot.member_id != supply.member_id:
            yield Problem(where, str(supply.member), "is taken from a lot of another", str(lot.member))


def promised(arrival):
    """{number of a lot: kilograms that were accepted by quotes made from it}"""
    lot_of = {supply.pk: supply.lot_id for supply in arrival.rows[Supply]}
    found = defaultdict(float)
    for quote in arrival.rows[Quote]:
        found[lot_of[quote.supply_id]] += quote.accepted_kg or 0
    return found


def by_number(arrival, model):
    return {row.pk: row for row in arrival.rows[model]}


def grouped(rows, column):
    found = defaultdict(list)
    for row in rows:
        found[getattr(row, column)].append(row)
    return found
