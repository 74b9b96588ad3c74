"""What each owner of fish in a parcel is due of the buyer's money: kilograms × price, soft ones at theirs."""

from dataclasses import dataclass
from fractions import Fraction
from zoneinfo import ZoneInfo

from coop.engines import claims
from coop.engines.largest_remainder import largest_remainder
from coop.engines.money import exact, half_up
from coop.models import ClaimsRule, Member, Part
from coop.selectors.prices import fish_prices_of

RULES = {
    ClaimsRule.PROPORTIONAL: claims.proportional,
    ClaimsRule.EQUAL_AWARDS: claims.equal_awards,
    ClaimsRule.EQUAL_LOSSES: claims.equal_losses,
    ClaimsRule.CONTESTED: claims.contested,
}


@dataclass(frozen=True)
class Dues:
    """What each owner is due, minor units; what has no price that day is missing."""

    members: tuple[Member, ...]
    amounts_minor: tuple[int, ...]
    missing: tuple[str, ...]


def dues_of(parcel) -> Dues:
    """Nobody knows whose fish softened: what did is spread over all kilograms alike."""
    day = parcel.handed_over_at.astimezone(ZoneInfo(parcel.cooperative.time_zone)).date()
    prices = {price.species_id: price for price in fish_prices_of(parcel.cooperative).on(day)}
    parts = list(
        Part.objects.of(parcel.cooperative).filter(carton__parcel=parcel).select_related(
            "lot__member", "lot__species"
        )
    )  # fmt: skip
    missing = {part.lot.species.name_en for part in parts if part.lot.species_id not in prices}
    if missing:
        return Dues((), (), tuple(sorted(missing)))
    soft = _soft_share(parcel, parts)
    dues, members = {}, {}
    for part in parts:
        price, owner = prices[part.lot.species_id], part.lot.member
        a_kilogram = soft * price.soft_minor_per_kg + (1 - soft) * price.sold_minor_per_kg
        dues[owner.pk] = dues.get(owner.pk, Fraction(0)) + exact("mass_kg", part.mass_kg) * a_kilogram
        members[owner.pk] = owner
    rows = tuple(sorted(members.values(), key=lambda member: (member.name, member.pk)))
    return Dues(rows, tuple(half_up(dues[member.pk]) for member in rows), ())


def _soft_share(parcel, parts):
    whole = sum(exact("mass_kg", part.mass_kg) for part in parts)
    return min(Fraction(1), exact("soft_kg", parcel.soft_kg or 0) / whole)


def shared_by_rule(rule, wanted_minor, *, estate_minor, coin):
    """What does not suffice, among those who want it: nobody gets more, and it is all given away."""
    if not estate_minor:
        return (0,) * len(wanted_minor)
    awards = RULES[rule](wanted_minor, estate=estate_minor)
    return largest_remainder(awards, total=estate_minor, coin=coin, at_most=wanted_minor)


def proceeds_of(dues: Dues, *, received_minor, rule, coin):
    """The buyer's money to its owners: a short payment by the rule, what is over by the dues."""
    due = sum(dues.amounts_minor)
    if received_minor <= due:
        return shared_by_rule(rule, dues.amounts_minor, estate_minor=received_minor, coin=coin)
    weights = dues.amounts_minor if due else (1,) * len(dues.members)
    return largest_remainder(weights, total=received_minor, coin=coin)
