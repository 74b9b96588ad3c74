from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from coop.errors import Invalid, Problem, invalid
from coop.models import Carrier, Member, Route, RuleKind, Tariff, TariffRule, TariffStep
from coop.services.changes import NoParts, Wanted, change, parts_below, pen_of
from coop.services.roles import require_own

RULE = {
    "kind": None,
    "amount_minor": 0,
    "minimum_minor": 0,
    "minimum_kg": 0,
    "seats_per_carton": None,
    "steps_per_kilogram": False,
    "volumetric_divisor_cm3_per_kg": None,
    "surcharge_share": None,
    "months": (),
}
"""Columns of a rule, with what they are unless they are said."""


@transaction.atomic
def change_tariff(
    *,
    by: Member,
    carrier: Carrier,
    route: Route,
    valid_from: date,
    rules: list[dict],
    valid_until: date | None = None,
    confirmed_on: date | None = None,
    note: str = "",
    now: datetime | None = None,
) -> Tariff:
    """What a carrier takes on a route from a day on.

    rules are columns of TariffRule by name, in order; one of kind by_step has steps, a list of `from_kg` and
    `amount_minor`, the first of which begins at 0 kg.
    """
    pen = pen_of(by, "change a fare", note, now)
    require_own(by, carrier, route)
    return change(
        pen,
        Wanted(
            model=Tariff,
            alike={"carrier": carrier, "route": route},
            figures={},
            valid_from=valid_from,
            valid_until=valid_until,
            confirmed_on=confirmed_on,
            parts=Rules(wanted_rules(rules)),
        ),
    )


@dataclass(frozen=True)
class Rules(NoParts):
    """The rules that a tariff is to have; each a pair of its columns and its steps."""

    rules: tuple

    def same(self, tariff):
        return rules_of(tariff) == self.rules

    def write(self, tariff, pen):
        for part in list(parts_below(tariff)):
            pen.take_away(part)
        for number, (columns, steps) in enumerate(self.rules):
            with named(f"rules.{number}"):
                values = {**dict(columns), "months": list(dict(columns)["months"])}
                rule = pen.write(TariffRule(tariff=tariff, position=number + 1, **values))
            for place, (from_kg, amount_minor) in enumerate(steps):
                with named(f"rules.{number}.steps.{place}"):
                    pen.write(TariffStep(rule=rule, from_kg=from_kg, amount_minor=amount_minor))


class named:  # noqa: N801
    """Says of which rule a problem is that its own form found."""

    def __init__(self, where):
        self.where = where

    def __enter__(self):
        return self

    def __exit__(self, _kind, failure, _trace):
        if isinstance(failure, Invalid):
            found = [
                Problem(f"{self.where}.{one.field}", one.value, one.problem, one.right)
                for one in failure.problems
            ]
            raise Invalid(failure.message, *found) from failure


def rules_of(tariff):
    """The rules of a stored tariff in order, as `wanted_rules` has them."""
    return tuple(
        (
            tuple((name, _plain(getattr(rule, name))) for name in RULE),
            tuple((step.from_kg, step.amount_minor) for step in rule.steps.all()),
        )
        for rule in tariff.rules.all()
    )


def wanted_rules(rules):
    """Rules as they are asked for, with what is not said; refused where the fare could not be worked out."""
    if not rules:
        raise invalid("rules", [], "name no fare", "at least one rule")
    found = []
    for number, rule in enumerate(rules):
        unknown = set(rule) - set(RULE) - {"steps", "position"}
        if unknown or not rule.get("kind"):
            wrong = min(unknown, default="kind")
            raise invalid(
                f"rules.{number}.{wrong}", rule.get(wrong), "is no column of a rule", ", ".join(RULE)
            )
        steps = tuple(sorted((step["from_kg"], step["amount_minor"]) for step in rule.get("steps") or ()))
        require_steps(rule["kind"], steps, number)
        found.append((tuple((name, _plain(rule.get(name, usual))) for name, usual in RULE.items()), steps))
    return tuple(found)


def require_steps(kind, steps, number):
    where, starts = f"rules.{number}.steps", [start for start, _ in steps]
    if kind != RuleKind.BY_STEP and steps:
        raise invalid(where, starts, "belong to a rule by steps of weight", "no steps, or kind by_step")
    if kind == RuleKind.BY_STEP and (not steps or starts[0] != 0):
        raise invalid(where, starts, "do not begin at 0 kg", "a first step from 0 kg")
    if len(set(starts)) < len(starts):
        raise invalid(where, starts, "begin twice at the same weight", "each weight once")


def _plain(value):
    return tuple(value) if isinstance(value, list | tuple) else value
