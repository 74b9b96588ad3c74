"""To share: the cheapest open parcel that takes the fish and stays safe, or what lots on offer would make."""

from coop.selectors.cost import bill_of_cartons
from coop.selectors.lots import LEAST_KG
from coop.selectors.parcel_bill import billed_parcel, local_day, parcel_prices
from coop.selectors.parcel_judgement import ParcelJudge, fill_of
from coop.selectors.parcels import open_parcels_between
from coop.selectors.split import open_split
from coop.selectors.split_worked_out import holdings_of
from coop.selectors.ways_made_up import made_up
from coop.selectors.ways_question import NO_PRICE, SHARE, Known, Way, dearness
from coop.selectors.ways_together import Together, joined_fill, kept_apart, own_fill, own_holding

NO_OPEN_PARCEL, NO_ROOM, KEPT_APART, NOT_SAFE = (
    "no_open_parcel",
    "no_room",
    "kept_apart",
    "not_safe_together",
)


def share(known: Known) -> Way:
    """The cheapest open parcel; without one, the best carton that lots on offer would make."""
    joined, refusal = _joinings(known)
    if joined:
        return Way(SHARE, min(joined, key=dearness))
    made = made_up(known)
    return Way(SHARE, made) if made else refusal


def _joinings(known):
    """Trips in parcels that are open, and why there is none."""
    question = known.question
    parcels = [
        parcel
        for parcel in open_parcels_between(
            question.cooperative, question.route, question.buyer,
            begins_at=question.ready_at, ends_at=question.ends_at,
        )
        if parcel.closes_at >= question.ready_at
    ]  # fmt: skip
    apart, judge = kept_apart(question.cooperative), ParcelJudge(parcels)
    found = [_joining(known, parcel, apart, judge) for parcel in parcels]
    refusals = [one for one in found if isinstance(one, Way)]
    none_open = Way(SHARE, reason=NO_OPEN_PARCEL, values={})
    return [one for one in found if not isinstance(one, Way)], next(iter(refusals), none_open)


def _joining(known, parcel, apart, judge):
    """The Trip in the fullest carton of a parcel that takes the fish, or the Way that says why none does."""
    mass = known.question.mass_kg
    holds = [carton for carton in parcel.cartons.all() if carton.room_kg >= mass - LEAST_KG]
    cartons = [carton for carton in holds if not _has_lot(carton, known.question.lot)]
    if not cartons:
        room = max((carton.room_kg for carton in parcel.cartons.all()), default=0.0)
        return Way(SHARE, reason=NO_ROOM, values={"room_kg": room, "mass_kg": mass})
    beside = [carton for carton in cartons if not _strangers(carton, known.question.species, apart)]
    if not beside:
        return Way(SHARE, reason=KEPT_APART, values={"species": known.question.species.code})
    judged = [(judge.judged(parcel, _with_fish(known, carton)), carton) for carton in beside]
    safe = [(found, carton) for found, carton in judged if found.is_safe]
    if not safe:
        best = max(found.chance_hard for found, _ in judged)
        return Way(SHARE, reason=NOT_SAFE, values={"chance_hard": best})
    found, carton = min(safe, key=lambda pair: pair[1].room_kg)
    return _trip_in(known, parcel, carton, found.departure)


def _with_fish(known, carton):
    """Fill of a carton with this fish in it."""
    parts, own = carton.parts.all(), own_fill(known)
    return joined_fill(fill_of(parts), own) if parts else own


def _strangers(carton, species, apart):
    return any(frozenset((part.lot.species_id, species.pk)) in apart for part in carton.parts.all())


def _has_lot(carton, lot):
    return lot is not None and any(part.lot_id == lot.pk for part in carton.parts.all())


def _trip_in(known, parcel, carton, departure):
    """Trip in a parcel that takes the fish in this carton; her part of the bill is what it adds to hers."""
    read = billed_parcel(parcel)
    masses = [
        row.mass_kg + (known.question.mass_kg if row.pk == carton.pk else 0.0) for row in read.cartons.all()
    ]
    bill = bill_of_cartons(
        parcel_prices(read), carrier=read.timetable.carrier, design=read.design,
        masses_kg=[round(mass, 3) for mass in masses if mass], day=local_day(read),
    )  # fmt: skip
    if bill.cost is None:
        return Way(SHARE, reason=NO_PRICE, values={"cost_missing": list(bill.missing)})
    held = holdings_of(read)
    together = Together(known, [*held, own_holding(known)], bill.cost.total)
    paid = together.share_of_last(timetable=read.timetable, departs_at=read.departs_at)
    mine = known.question.member
    if any(holding.member.pk == mine.pk for holding in held):
        paid = max(0, paid - (open_split(read).share_of(mine) or 0))
    return known.trip(departure, paid, members=len(together.holdings), parcel=read.uuid)
