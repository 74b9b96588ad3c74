"""Which cartons of a parcel take fish that joins: room, species kept apart, and whether it could be safe."""

from dataclasses import dataclass, replace

from coop.errors import Conflict, NoRoom, NotSafe, Problem
from coop.models import Part
from coop.models.parcels import rounded_kg
from coop.selectors.parcel_judgement import ParcelJudge, fill_of
from coop.selectors.parcels import carton_at
from coop.selectors.separations import apart_from, pairs_apart

LEAST_PIECE_KG = 0.1
"""Nobody packs less than this of a lot that is split into one carton."""


@dataclass(frozen=True)
class Piece:
    """So many kilograms of a lot into one carton."""

    carton: object
    mass_kg: float


def placement_of(parcel, lot, mass_kg, *, position=None):
    """Pieces of a lot and the cartons that take them: the fullest one that has room for all of it.

    Only a lot that may be split and fits no carton whole is spread over several.

    A carton while it fills may hold less than is safe. So it refuses only fish with which no filling from
    there on can be safe: judged with what it would hold now, and filled up to its capacity. Whoever closes
    it is held to what it really holds.
    """
    cartons = _open_cartons(parcel, position)
    beside = _beside(parcel, cartons, lot)
    rising = sorted(beside, key=lambda carton: (carton.room_kg, carton.position))
    whole = [[Piece(carton, mass_kg)] for carton in rising if carton.room_kg >= mass_kg]
    ways = whole or ([spread] if lot.may_be_split and (spread := _spread(rising, mass_kg)) else [])
    if not ways:
        raise no_room(lot, mass_kg, room_for(rising, lot))
    return _first_safe(ParcelJudge([parcel]), parcel, lot, ways)


def room_for(cartons, lot):
    """Kilograms that cartons have left for a lot: of one of them, unless it may be split."""
    rooms = [carton.room_kg for carton in cartons if carton.room_kg >= LEAST_PIECE_KG]
    return rounded_kg(rooms) if lot.may_be_split else max(rooms, default=0.0)


def no_room(lot, mass_kg, room_kg):
    right = f"at most {room_kg:g} kg here, or another departure" if room_kg else "another departure"
    if room_kg and not lot.may_be_split:
        right += ", or consent to a split"
    wrong = Problem("mass_kg", mass_kg, f"is more than the {room_kg:g} kg that are left", right)
    return NoRoom(f"There is room for {room_kg:g} kg only.", wrong, room_kg=room_kg)


def apart(cartons, lot, pairs):
    """Species in each carton that may not lie beside a lot, by the carton's key."""
    found = {carton.pk: apart_from(pairs, lot.species, _species_in(carton)) for carton in cartons}
    return {key: species for key, species in found.items() if species}


def could_be_safe(judge, parcel, carton, joining):
    """Judged of a carton with more in it: as it would be, or else full; the likelier of the two."""
    fill = fill_of([*carton.parts.all(), *joining])
    now = judge.judged(parcel, fill)
    if now.is_safe:
        return now
    full = judge.judged(parcel, replace(fill, mass_kg=carton.capacity_kg))
    return max(now, full, key=lambda one: (one.is_safe, one.chance_hard))


def _open_cartons(parcel, position):
    wanted = parcel.cartons.all() if position is None else [carton_at(parcel, position)]
    found = [carton for carton in wanted if carton.closed_at is None]
    if wanted and not found:
        which = "Every carton" if position is None else f"Carton {position}"
        wrong = Problem("carton", position, "is closed", "an open carton, or another departure")
        raise Conflict(f"{which} of this parcel is closed.", wrong)
    return found


def _beside(parcel, cartons, lot):
    """Cartons in which nothing lies that may not lie beside a lot."""
    strange = apart(cartons, lot, pairs_apart(parcel.cooperative_id))
    if cartons and len(strange) == len(cartons):
        names = sorted({str(species) for found in strange.values() for species in found})
        wrong = Problem(
            "lot",
            str(lot.uuid),
            f"may not lie beside {', '.join(names)}",
            "a carton without them, or an empty one",
        )
        raise Conflict(f"{lot.species} may not share a carton with {', '.join(names)}.", wrong)
    return [carton for carton in cartons if carton.pk not in strange]


def _species_in(carton):
    return list({part.lot.species_id: part.lot.species for part in carton.parts.all()}.values())


def _spread(cartons, mass_kg):
    """Pieces that fill one carton after another, or None where all of them together have no room."""
    pieces, left = [], mass_kg
    # The roomiest first, so that a lot is cut into few pieces.
    for carton in sorted(cartons, key=lambda one: (-one.room_kg, one.position)):
        if left > 0 and carton.room_kg >= LEAST_PIECE_KG:
            pieces.append(Piece(carton, min(carton.room_kg, left)))
            left = rounded_kg((left, -pieces[-1].mass_kg))
    return pieces if left <= 0 else None


def _first_safe(judge, parcel, lot, ways):
    worst = None
    for pieces in ways:
        found = [
            could_be_safe(judge, parcel, piece.carton, [Part(lot=lot, mass_kg=piece.mass_kg)])
            for piece in pieces
        ]
        if all(judged.is_safe for judged in found):
            return pieces
        worst = worst or min(found, key=lambda one: (one.is_safe, one.chance_hard))
    raise not_safe(lot, worst)


def not_safe(lot, judged):
    wrong = Problem(
        "lot",
        str(lot.uuid),
        f"the carton {judged.words}",
        "colder fish, another carton, or another departure",
    )
    return NotSafe(f"With this fish the carton {judged.words}, however full.", wrong, judged=judged)
