"""The bill of a parcel, what each of those who share it pays of it under every rule, and why."""

from dataclasses import dataclass
from functools import cached_property

from coop.engines.coalitions import MOST_PLAYERS
from coop.models import BillLine, Member, ParcelState, SharingRule
from coop.selectors.parcel_bill import bill_lines_of, billed_parcel
from coop.selectors.split_worked_out import WorkedOut, work_out_split

ALONE = "alone"
NOBODY_WOULD_LEAVE = "nobody_would_leave"
SOME_WOULD_LEAVE = "some_would_leave"
NO_SPLIT_IS_STABLE = "no_split_is_stable"
TOO_MANY_TO_TELL = "too_many_to_tell"


@dataclass(frozen=True)
class Portion:
    """One member's fish in a parcel, and the least that it would have cost alone; None: no safe way alone."""

    member: Member
    mass_kg: float
    alone_minor: int | None


@dataclass(frozen=True)
class RuleSplit:
    """The bill under one rule, an amount for each portion in the same order.

    `leaves` would save `gain_minor` together by leaving. Not feasible: capping each at what alone would cost
    does not cover the bill.
    """

    rule: str
    amounts_minor: tuple[int, ...]
    feasible: bool
    leaves: tuple[Member, ...]
    gain_minor: int
    better_alone: tuple[Member, ...]
    why: str


@dataclass(frozen=True)
class Split:
    """Final once the parcel is closed; while it is open it moves with every lot, and may lack a price."""

    final: bool
    rule: str
    lines: tuple[BillLine, ...]
    missing: tuple[str, ...]
    portions: tuple[Portion, ...]
    rules: tuple[RuleSplit, ...]
    core_is_empty: bool | None

    @property
    def bill_minor(self):
        """Sum of the lines; None where a price is missing."""
        return None if self.missing else sum(line.amount_minor for line in self.lines)

    @property
    def players(self):
        return len(self.portions)

    @property
    def is_sampled(self):
        """Whether Shapley's value is an estimate."""
        return self.players > MOST_PLAYERS

    @cached_property
    def in_force(self) -> RuleSplit | None:
        """The split by the rule that counts; None without a bill."""
        return next((found for found in self.rules if found.rule == self.rule), None)

    def share_of(self, member):
        """Minor units that a member pays by the rule that counts; None for who has no fish in it."""
        if self.in_force is None:
            return None
        amounts = zip(self.portions, self.in_force.amounts_minor, strict=True)
        return next((amount for portion, amount in amounts if portion.member.pk == member.pk), None)


def split_of(parcel) -> Split:
    """As written when the parcel closed; before that as it would be if it closed now."""
    if parcel.state == ParcelState.OPEN:
        return open_split(parcel)
    return _stored(parcel)


def open_split(parcel) -> Split:
    """The split of what lies in the cartons now, read anew."""
    found = billed_parcel(parcel)
    return split_from(found, work_out_split(found))


def split_from(parcel, worked: WorkedOut) -> Split:
    alone = worked.alone_minor or (None,) * len(worked.holdings)
    portions = tuple(
        Portion(holding.member, holding.mass_kg, least)
        for holding, least in zip(worked.holdings, alone, strict=True)
    )
    rules = tuple(
        _rule_split(
            shared.rule,
            portions,
            shared.amounts_minor,
            tested=shared.leaves is not None,
            leaves=tuple(portions[player].member for player in shared.leaves or ()),
            gain_minor=shared.gain_minor,
            core_is_empty=worked.core_is_empty,
        )
        for shared in worked.rules
    )
    cost = worked.bill.cost
    return Split(
        final=False,
        rule=rule_for(parcel.cooperative, len(portions), rules),
        lines=tuple(bill_lines_of(parcel, cost)) if cost else (),
        missing=worked.bill.missing,
        portions=portions,
        rules=rules,
        core_is_empty=worked.core_is_empty,
    )


def rule_for(cooperative, players, rules):
    """The cooperative's rule, or the one that always works where there are too many players for it."""
    known = {found.rule for found in rules}
    return (
        cooperative.sharing_rule if not players or cooperative.sharing_rule in known else SharingRule.CAPPED
    )


def _rule_split(rule, portions, amounts_minor, *, tested, leaves, gain_minor, core_is_empty):
    limits = [portion.alone_minor for portion in portions]
    better_alone = tuple(
        portion.member
        for portion, amount in zip(portions, amounts_minor, strict=True)
        if portion.alone_minor is not None and amount > portion.alone_minor
    )
    can_cap = None in limits or sum(limits) >= sum(amounts_minor)
    return RuleSplit(
        rule=rule,
        amounts_minor=tuple(amounts_minor),
        feasible=can_cap or rule != SharingRule.CAPPED,
        leaves=leaves,
        gain_minor=gain_minor,
        better_alone=better_alone,
        why=_why(len(portions), tested=tested, leaves=leaves, core_is_empty=core_is_empty),
    )


def _why(players, *, tested, leaves, core_is_empty):
    if players == 1:
        return ALONE
    if not tested:
        return TOO_MANY_TO_TELL
    if core_is_empty:
        return NO_SPLIT_IS_STABLE
    return SOME_WOULD_LEAVE if leaves else NOBODY_WOULD_LEAVE


def _stored(parcel) -> Split:
    """What was written when it closed, in a fixed number of questions."""
    shares = list(parcel.shares.select_related("member").order_by("member__name", "member"))
    stabilities = {row.rule: row for row in parcel.stabilities.all()}
    first = [share for share in shares if share.rule == parcel.sharing_rule]
    portions = tuple(Portion(share.member, share.mass_kg, share.alone_minor) for share in first)
    members = {portion.member.pk: portion.member for portion in portions}
    return Split(
        final=True,
        rule=parcel.sharing_rule,
        lines=tuple(parcel.bill_lines.all()),
        missing=(),
        portions=portions,
        rules=tuple(
            _rule_split(
                rule,
                portions,
                [share.amount_minor for share in shares if share.rule == rule],
                tested=len(portions) <= MOST_PLAYERS,
                leaves=tuple(members[pk] for pk in row.leaves),
                gain_minor=row.gain_minor,
                core_is_empty=row.core_is_empty,
            )
            for rule in SharingRule
            if (row := stabilities.get(rule))
        ),
        core_is_empty=stabilities[parcel.sharing_rule].core_is_empty if stabilities else None,
    )
