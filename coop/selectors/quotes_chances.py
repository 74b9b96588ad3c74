"""How full cartons of a quote may be so that they are surely hard, and how sure: judged, never hoped for."""

from bisect import bisect_left
from dataclasses import dataclass, replace
from datetime import datetime

from coop.errors import NotSafe, Problem
from coop.models import Parcel
from coop.selectors.parcel_judgement import Fill, Judged, ParcelJudge
from coop.selectors.parcels import capacity_kg

FILLINGS = 8
"""A carton is judged at so many even fillings up to the full one, and below the last safe one once more."""


@dataclass(frozen=True)
class Safety:
    """Fillings of one carton that are safe, kg, rising; between two neighbours the worse of them counts."""

    judged: tuple[Judged, ...]

    @property
    def least_kg(self):
        return self.judged[0].fill.mass_kg

    @property
    def most_kg(self):
        return self.judged[-1].fill.mass_kg

    @property
    def fullest(self) -> Judged:
        return self.judged[-1]

    @property
    def latest_safe_departure_at(self) -> datetime:
        return min(one.latest_safe_departure_at for one in self.judged)

    def holds(self, mass_kg):
        return self.least_kg <= mass_kg <= self.most_kg

    def around(self, mass_kg):
        """(chance hard, share that is expected to soften) of a filling between two that were judged."""
        after = bisect_left(self.judged, mass_kg, key=lambda one: one.fill.mass_kg)
        beside = [self.judged[after]]
        if beside[0].fill.mass_kg != mass_kg:
            beside.append(self.judged[after - 1])
        chance = min(one.chance_hard for one in beside)
        return chance, max(one.departure.judgement.expected_softened_share for one in beside)


def safety_of(parcel: Parcel, fish: Fill, most_kg: float) -> Safety:
    """Safety of cartons like those of a parcel, up to so many kilograms in each; NotSafe where none is.

    `fish` is what would lie in them. Everything between the emptiest and the fullest is counted on, so the
    look ends at the first filling that is not safe, from the fullest down.
    """
    judge = ParcelJudge([parcel])

    def judged(mass_kg):
        return judge.judged(parcel, replace(fish, mass_kg=mass_kg))

    fits = capacity_kg(parcel.design)
    rising = [round(fits * n / FILLINGS, 3) for n in range(1, FILLINGS + 1)]
    wanted = rising[: bisect_left(rising, most_kg) + 1]
    safe = []
    for number in reversed(range(len(wanted))):
        found = judged(wanted[number])
        if not found.is_safe:
            if not safe:
                raise not_safe(found)
            between = judged(round((wanted[number] + wanted[number + 1]) / 2, 3))
            return Safety(tuple(([between] if between.is_safe else []) + safe))
        safe.insert(0, found)
    return Safety(tuple(safe))


def not_safe(judged):
    wrong = Problem(
        "departure",
        None,
        f"the carton {judged.words}",
        "colder fish, more of it, another carton, or another departure",
    )
    return NotSafe(f"Nothing can be quoted: the carton {judged.words}.", wrong, judged=judged)
