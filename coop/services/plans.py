"""A plan is proposed, a person accepts it, and only then parcels are opened and lots put into them."""

from datetime import date, timedelta
from itertools import groupby
from uuid import uuid5

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, NotFound, Problem, invalid
from coop.models import Buyer, CartonDesign, Lot, Parcel, Plan, Route, Timetable
from coop.selectors.parcels import parcel_named
from coop.selectors.payments import local_today
from coop.selectors.plans import Planning, plans_of, propose
from coop.selectors.plans_proposal import kept
from coop.services.locking import lock
from coop.services.parcels import join_parcel, open_parcel
from coop.services.roles import require_own, require_packer
from coop.services.writing import first_answer, identified, written

MOST_DAYS = 14


def propose_plan(
    *, by, route: Route, buyer: Buyer, first_day: date, last_day: date, uuid=None, now=None
) -> Plan:
    """Proposes what goes when; nothing is opened or moved. The same id again gives the first proposal.

    It is worked out before anybody has to wait for it.
    """
    require_packer(by, "ask for a plan")
    require_own(by, route, buyer)
    now = now or timezone.now()
    same = {"asked_by_id": by.pk, "route_id": route.pk, "buyer_id": buyer.pk}
    if found := first_answer(Plan.objects.of(by.cooperative), uuid, **same):
        return found
    _require_days(first_day, last_day, local_today(by.cooperative, now))
    planning = Planning(by.cooperative, route, buyer, first_day, last_day, now)
    rests_on = planning.rests_on
    found = kept(planning, propose(planning))
    with transaction.atomic():
        lock(by.cooperative)
        return first_answer(Plan.objects.of(by.cooperative), uuid, **same) or written(
            Plan(
                **identified(uuid),
                cooperative=by.cooperative,
                route=route,
                buyer=buyer,
                first_day=first_day,
                last_day=last_day,
                asked_by=by,
                asked_at=now,
                proposal=found.proposal,
                rests_on=rests_on,
                cost_minor=found.cost_minor,
                bound_minor=found.bound_minor,
                gap=found.gap,
            )
        )


@transaction.atomic
def accept_plan(*, by, plan: Plan, now=None) -> list[Parcel]:
    """Opens the parcels of a plan and puts its lots into them: all, or nothing where something changed."""
    require_packer(by, "accept a plan")
    require_own(by, plan)
    cooperative, now = lock(by.cooperative), now or timezone.now()
    plan = plans_of(cooperative).filter(pk=plan.pk).first()
    if plan is None:
        raise NotFound("There is no such plan.")
    _require_acceptable(plan, now)
    parcels = [_opened(by, plan, key, list(rows), now) for key, rows in _by_departure(plan)]
    plan.accepted_at, plan.accepted_by = now, by
    written(plan)
    return [parcel_named(cooperative, parcel.uuid) for parcel in parcels]


def is_stale(plan: Plan, now) -> bool:
    """Whether lots, places or prices are no longer those that a plan rests on."""
    planning = Planning(plan.cooperative, plan.route, plan.buyer, plan.first_day, plan.last_day, now)
    return planning.rests_on != plan.rests_on


def _by_departure(plan):
    rows = sorted(plan.proposal["cartons"], key=lambda row: row["departure"])
    return groupby(rows, key=lambda row: row["departure"])


def _opened(by, plan, key, rows, now):
    """One parcel: its cartons in order, in each the heaviest lot first."""
    day = date.fromisoformat(rows[0]["date"])
    parcel = open_parcel(
        by=by,
        timetable=Timetable.objects.of(by.cooperative).get(pk=rows[0]["timetable"]),
        date=day,
        design=CartonDesign.objects.of(by.cooperative).on(day).get(slug=rows[0]["carton_design"]["slug"]),
        buyer=plan.buyer,
        cartons=len(rows),
        uuid=uuid5(plan.uuid, key),
        now=now,
    )
    for position, row in enumerate(rows, start=1):
        for part in row["parts"]:
            lot = Lot.objects.of(by.cooperative).get(uuid=part["lot"])
            join_parcel(by=by, parcel=parcel, lot=lot, mass_kg=part["mass_kg"], carton=position, now=now)
    return parcel


def _require_days(first_day, last_day, today):
    if first_day < today:
        raise invalid("from", first_day.isoformat(), "is over", f"{today.isoformat()} or later")
    if not first_day <= last_day < first_day + timedelta(days=MOST_DAYS):
        right = f"from {first_day.isoformat()} on, {MOST_DAYS} days at most"
        raise invalid("to", last_day.isoformat(), "is before the first day, or too far from it", right)


def _require_acceptable(plan, now):
    if plan.accepted_at:
        wrong = Problem("plan", str(plan.uuid), "was accepted before", "a new plan")
        raise Conflict("This plan was accepted before.", wrong)
    if not plan.proposal["cartons"]:
        wrong = Problem("plan", str(plan.uuid), "sends nothing", "a plan that sends something")
        raise Conflict("This plan sends nothing.", wrong)
    if is_stale(plan, now):
        wrong = Problem("plan", str(plan.uuid), "rests on what has changed since", "a new plan")
        raise Conflict("Lots, places or prices have changed since this was planned.", wrong)
