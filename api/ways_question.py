"""What is asked of the three ways of sending fish, and who may ask about whose."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from rest_framework import serializers

from api.cooperative import MEMBER
from api.departures_question import buyer_at
from api.question_fields import FishQuestion, Instant, chosen, require_hard
from api.rounding import written
from coop.errors import NotFound, invalid
from coop.selectors import ways_question
from coop.selectors.buyers import buyers_of
from coop.selectors.cartons import designs_between
from coop.selectors.departures import rounded
from coop.selectors.lots import lot_named
from coop.selectors.routes import routes_of
from coop.selectors.species import all_species, softens_at

USUAL_DAYS, MOST_DAYS = 7, 14
FURTHEST = timedelta(days=31)


class WaysQuestion(FishQuestion):
    """Fish that is ready at an hour; `lot` says that it is offered already, and then whose it is."""

    route = serializers.SlugField()
    buyer = serializers.SlugField(
        required=False, help_text="short name of a buyer at the end of the route; else the first one there"
    )
    ready_at = Instant(required=False)
    deliver_by = Instant(required=False)
    days = serializers.IntegerField(min_value=1, max_value=MOST_DAYS, default=USUAL_DAYS)
    lot = serializers.UUIDField(required=False, help_text="id of a lot that is offered")


def question_of(asked, person, now):
    """The selectors' WaysQuestion; fish that was ready before now leaves from now on."""
    cooperative = person.cooperative
    species = chosen(all_species(), "species", asked["species"], key="code")
    require_hard(asked["start_temperature_c"], softens_at(species))
    route = chosen(routes_of(cooperative), "route", asked["route"])
    lot = lot_of(asked.get("lot"), person)
    ready_at = rounded(max(asked.get("ready_at") or now, now), up=True)
    deliver_by = asked.get("deliver_by") or (lot and lot.deliver_by)
    require_order(ready_at, asked.get("deliver_by"), now)
    zone = ZoneInfo(cooperative.time_zone)
    first_day = ready_at.astimezone(zone).date()
    return ways_question.WaysQuestion(
        cooperative=cooperative,
        route=route,
        buyer=buyer_at(route, buyers_of(cooperative), asked.get("buyer")),
        species=species,
        designs=tuple(designs_between(cooperative, first_day, first_day + timedelta(days=asked["days"]))),
        mass_kg=asked["mass_kg"],
        start_temperature_c=asked["start_temperature_c"],
        ready_at=ready_at,
        deliver_by=deliver_by,
        days=asked["days"],
        member=lot.member if lot else person.member,
        lot=lot,
    )


def lot_of(uuid, person):
    """The lot that is named; a member's fellow's lot is as unknown to her as a stranger's."""
    if uuid is None:
        return None
    try:
        lot = lot_named(person.cooperative, uuid)
    except NotFound:
        lot = None
    if lot is None or (person.role == MEMBER and lot.member_id != person.member.pk):
        raise invalid("lot", str(uuid), "is not known", "a lot of yours")
    return lot


def require_order(ready_at, deliver_by, now):
    if ready_at > now + FURTHEST:
        right = f"within {FURTHEST.days} days from now"
        raise invalid("ready_at", ready_at.isoformat(), "is too far ahead", right)
    if deliver_by and deliver_by <= ready_at:
        right = f"after {ready_at.isoformat()}"
        raise invalid("deliver_by", deliver_by.isoformat(), "is before the fish is ready", right)


def echo_of(question):
    """The question as it was answered, with every default filled in."""
    return {
        "route": question.route.slug,
        "buyer": question.buyer.slug,
        "species": question.species.code,
        "mass_kg": question.mass_kg,
        "start_temperature_c": question.start_temperature_c,
        "ready_at": written(question.ready_at, question.zone),
        "deliver_by": written(question.deliver_by, question.zone),
        "days": question.days,
        "lot": question.lot and str(question.lot.uuid),
    }
