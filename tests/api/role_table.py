"""Who gets what, route by route: what is not in this table fails `test_roles`.

A route is a line: method, address as `api/urls.py` has it, and the status for each of SEVEN people. What its
address names, what is sent and what is asked come from the Cast of `people.py`, as ours: a stranger asks for
our rows. Written by hand and not read from the views: the views are what it holds.
"""

from datetime import timedelta
from typing import NamedTuple
from uuid import UUID

from django.utils import timezone

from coop.services.enrolment_codes import digest_of
from tests.api import dated_rows as dated
from tests.api import parcel_rows as rows
from tests.api import quote_rows as quoted
from tests.api.routes import ROUTES
from tests.factories.calendar_links import CalendarLinkFactory
from tests.factories.phones import EnrolmentCodeFactory, account_of

SEVEN = ("visitor", "owner", "fellow", "packer", "manager", "stranger", "strange_manager")
CODE, PASSWORD = "7KQ2M-XW94C", "eleven hard fish"
KINDS = {"id": "<int:pk>", "slug": "<slug:slug>", "code": "<slug:code>", "uuid": "<uuid:uuid>"}
NOTHING = UUID(int=0)

# visitor, owner, fellow, packer, manager, stranger, strange manager
ALL = (200,) * 7
ALL_MADE = (201,) * 7
# Let in, and then told what is wrong in the question: what is worked out has tests of its own.
ALL_LET_IN = (400,) * 7
MEMBERS_LET_IN = (401,) + (400,) * 6
VISITORS_ONE = (200, 200, 200, 200, 200, 404, 404)
MEMBERS = (401, 200, 200, 200, 200, 200, 200)
MEMBERS_MADE = (401, 201, 201, 201, 201, 201, 201)
MEMBERS_DONE = (401, 204, 204, 204, 204, 204, 204)
MEMBERS_ONE = (401, 200, 200, 200, 200, 404, 404)
MANAGERS = (401, 403, 403, 403, 200, 403, 200)
MANAGERS_MADE = (401, 403, 403, 403, 201, 403, 201)
MANAGERS_DONE = (401, 403, 403, 403, 204, 403, 204)
MANAGERS_ONE = (401, 403, 403, 403, 200, 403, 404)
# A stranger may make one, but not of ours: what she names is not known.
MANAGERS_MADE_OF_OURS = (401, 403, 403, 403, 201, 403, 400)
# Let in, and then told that something is missing, or that a file is no JSON.
MANAGERS_LET_IN = (401, 403, 403, 403, 400, 403, 400)
MANAGERS_OTHERWISE = (401, 403, 403, 403, 415, 403, 415)
PACKERS = (401, 403, 403, 200, 200, 403, 200)
PACKERS_ONE = (401, 403, 403, 200, 200, 403, 404)
PACKERS_MADE_ONE = (401, 403, 403, 201, 201, 403, 404)
PACKERS_MADE_OF_OURS = (401, 403, 403, 201, 201, 403, 400)
# Let in, and then refused for what the row is like: who may is what this table is about.
PACKERS_LET_IN = (401, 403, 403, 409, 409, 403, 404)
MEMBERS_MADE_OF_OURS = (401, 201, 201, 201, 201, 400, 400)
HERS_MADE_OF_OURS = (401, 201, 403, 201, 201, 400, 400)
HERS_SHOWN_OF_OURS = (401, 200, 403, 200, 200, 400, 400)
# A fellow sees that a parcel is there, but not what others pay, and moves nobody else's fish.
HERS_OR_FORBIDDEN_ONE = (401, 200, 403, 200, 200, 404, 404)
HERS_AND_PACKERS_ONE = (401, 200, 404, 200, 200, 404, 404)
HERS_AND_MANAGERS_ONE = (401, 200, 403, 403, 200, 404, 404)
# What is not hers is as missing as what is not there.
HERS_OR_MANAGERS_ONE = (401, 200, 404, 404, 200, 404, 404)
MANAGERS_DONE_ONE = (401, 403, 403, 403, 204, 403, 404)
# A version that has begun is not withdrawn.
MANAGERS_REFUSED_ONE = (401, 403, 403, 403, 409, 403, 404)
LISTS = {"visitors": ALL, "members": MEMBERS, "own": MEMBERS, "hers": MEMBERS, "managers": MANAGERS}
ONES = {
    "visitors": VISITORS_ONE,
    "members": MEMBERS_ONE,
    "own": HERS_AND_PACKERS_ONE,
    "hers": HERS_OR_MANAGERS_ONE,
    "managers": MANAGERS_ONE,
}


class Row(NamedTuple):
    method: str
    address: str
    statuses: tuple
    named: object = None
    """Makes of a Cast what the address names."""
    body: object = None
    query: object = None
    anybody: bool = False
    """No token is read: a wrong one does not matter."""


def stored(route):
    """The list and one of it."""
    kind = KINDS[route.key]

    def one(cast):
        row = route.make(cast.ours, cast.owner) if route.sees in ("own", "hers") else route.make(cast.ours)
        return getattr(row, route.key)

    return (
        Row("GET", f"{route.address}/", LISTS[route.sees]),
        Row("GET", f"{route.address}/{kind}/", ALL if route.shared else ONES[route.sees], one),
    )


def open_code(cast):
    now = timezone.now()
    return EnrolmentCodeFactory(
        cooperative=cast.ours,
        member=cast.owner,
        digest=digest_of(CODE),
        issued_at=now,
        expires_at=now + timedelta(hours=1),
    )


def enrolment(cast):
    open_code(cast)
    return {"code": CODE, "phone_name": "New", "phone": str(cast.phone.uuid)}


def signing_in(cast):
    account = account_of(cast.manager)
    account.set_password(PASSWORD)
    account.save()
    return {"name": account.username, "password": PASSWORD, "phone_name": "New"}


def told(name=None, /, **words):
    """The same name, or the same words, whoever asks."""
    return lambda _cast: name or words


def steps(word, factory, owner):
    """What is done with a row of a dated subject."""
    one = f"{word}/<int:pk>"
    return (
        Row("POST", f"{one}/confirm/", MANAGERS_ONE, dated.started(factory, owner)),
        Row("POST", f"{one}/end/", MANAGERS_ONE, dated.started(factory, owner), dated.ends),
        Row("POST", f"{one}/withdraw/", MANAGERS_DONE_ONE, dated.coming(factory, owner)),
    )


ROWS = (
    # who asks
    Row("GET", "demonstration/", ALL, anybody=True),
    Row("POST", "demonstration/", ALL_MADE, body=lambda it: {"member": it.owner.pk}, anybody=True),
    Row("POST", "enrolments/", ALL_MADE, body=enrolment, anybody=True),
    Row("GET", "kept/", MEMBERS),
    Row("GET", "me/", MEMBERS),
    Row("POST", "me/password/", MANAGERS_DONE, body=told(name="esther", password=PASSWORD)),
    Row("POST", "sign-in/", ALL_MADE, body=signing_in, anybody=True),
    Row("POST", "sign-out/", MEMBERS_DONE),
    # people
    Row("POST", "members/", MANAGERS_MADE, body=told(name="New", role="packer")),
    Row("PATCH", "members/<int:pk>/", MANAGERS_ONE, lambda it: it.fellow.pk, told(role="packer")),
    Row("POST", "enrolment-codes/", MANAGERS_MADE_OF_OURS, body=lambda it: {"member": it.owner.pk}),
    Row("POST", "phones/<uuid:uuid>/revoke/", HERS_AND_MANAGERS_ONE, lambda it: it.phone.uuid),
    # the cooperative
    Row("GET", "cooperatives/", ALL),
    Row("GET", "cooperatives/<slug:slug>/", VISITORS_ONE, lambda it: it.ours.slug),
    Row(
        "PATCH",
        "cooperatives/<slug:slug>/",
        MANAGERS_ONE,
        lambda it: it.ours.slug,
        told(sharing_rule="equal"),
    ),
    # lots, parcels and their money
    Row("POST", "claims/", HERS_MADE_OF_OURS, body=rows.claiming),
    Row("POST", "claims/<uuid:uuid>/reject/", PACKERS_ONE, rows.claim_of_owner, told(note="it was hard")),
    Row("POST", "claims/<uuid:uuid>/share/", PACKERS_ONE, rows.claim_of_owner, told(estate_minor=5)),
    Row("POST", "entries/<uuid:uuid>/correct/", PACKERS_MADE_ONE, rows.payment_of_owner, told(note="twice")),
    Row("POST", "lots/", MEMBERS_MADE_OF_OURS, body=rows.offer),
    Row("PATCH", "lots/<uuid:uuid>/", HERS_AND_PACKERS_ONE, rows.own_lot, told(note="two bags")),
    Row("POST", "lots/<uuid:uuid>/withdraw/", HERS_AND_PACKERS_ONE, rows.own_lot),
    Row("POST", "parcels/", PACKERS_MADE_OF_OURS, body=rows.opening),
    Row(
        "POST",
        "parcels/<uuid:uuid>/call-off/",
        PACKERS_ONE,
        rows.bill_of_owner,
        told(note="the minibus did not come"),
    ),
    Row("POST", "parcels/<uuid:uuid>/cartons/", PACKERS_ONE, rows.coming),
    Row("POST", "parcels/<uuid:uuid>/cartons/<int:position>/close/", PACKERS_LET_IN, rows.coming),
    Row("POST", "parcels/<uuid:uuid>/cartons/<int:position>/drop/", PACKERS_ONE, rows.twofold),
    Row(
        "POST",
        "parcels/<uuid:uuid>/corrections/",
        PACKERS_ONE,
        rows.bill_of_owner,
        told(amount_minor=5, note="toll"),
    ),
    Row("POST", "parcels/<uuid:uuid>/depart/", PACKERS_ONE, rows.bill_of_owner, rows.now),
    Row("POST", "parcels/<uuid:uuid>/hand-over/", PACKERS_ONE, rows.on_the_way, rows.hard),
    Row("POST", "parcels/<uuid:uuid>/join/", HERS_OR_FORBIDDEN_ONE, rows.coming, rows.lot_of_owner),
    Row("POST", "parcels/<uuid:uuid>/leave/", HERS_OR_FORBIDDEN_ONE, rows.filled, rows.lot_of_owner),
    Row("GET", "parcels/<uuid:uuid>/papers/", PACKERS_ONE, rows.bill_of_owner),
    Row("POST", "parcels/<uuid:uuid>/settle/", PACKERS_ONE, rows.arrived, told(received_minor=None)),
    Row("GET", "parcels/<uuid:uuid>/split/", HERS_OR_FORBIDDEN_ONE, rows.bill_of_owner),
    Row("GET", "payments/", PACKERS),
    Row("POST", "payments/", PACKERS_MADE_OF_OURS, body=rows.paying),
    Row("POST", "plans/", PACKERS_MADE_OF_OURS, body=rows.planning),
    Row("GET", "plans/<uuid:uuid>/", PACKERS_ONE, rows.plan),
    Row("POST", "plans/<uuid:uuid>/accept/", PACKERS_LET_IN, rows.plan),
    Row("POST", "quotes/", HERS_MADE_OF_OURS, body=quoted.quoting),
    Row("GET", "quotes/losing/", PACKERS),
    Row("POST", "quotes/preview/", HERS_SHOWN_OF_OURS, body=quoted.quoting),
    Row("POST", "quotes/<uuid:uuid>/renew-link/", HERS_AND_PACKERS_ONE, quoted.quote_of_owner),
    Row("POST", "quotes/<uuid:uuid>/revoke/", HERS_AND_PACKERS_ONE, quoted.quote_of_owner),
    Row("GET", "statement/", MEMBERS),
    Row("GET", "statements/", PACKERS),
    Row("GET", "statements/<int:pk>/", HERS_AND_PACKERS_ONE, lambda it: it.owner.pk),
    # in and out
    Row("POST", "calendar-links/", MEMBERS_MADE),
    Row(
        "POST",
        "calendar-links/<uuid:uuid>/revoke/",
        HERS_AND_MANAGERS_ONE,
        lambda it: CalendarLinkFactory(cooperative=it.ours, member=it.owner).uuid,
    ),
    Row("GET", "exports/archive/", MANAGERS),
    Row("GET", "exports/gtfs/", MANAGERS),
    Row("GET", "exports/<slug:subject>/", MANAGERS, told("members")),
    Row("POST", "imports/gtfs/", MANAGERS_LET_IN),
    Row("POST", "imports/<slug:subject>/", MANAGERS_OTHERWISE, told("members")),
    # what counts from a day on
    Row("POST", "tariffs/", MANAGERS_MADE_OF_OURS, body=dated.fare),
    Row("POST", "timetables/", MANAGERS_MADE_OF_OURS, body=dated.hour),
    Row("POST", "fish-prices/", MANAGERS_MADE, body=dated.fish_price),
    Row("POST", "material-prices/", MANAGERS_MADE_OF_OURS, body=dated.material_price),
    Row("POST", "charges/", MANAGERS_MADE_OF_OURS, body=dated.charge),
    Row("POST", "buyer-limits/", MANAGERS_MADE_OF_OURS, body=dated.limit),
    Row("POST", "terms/", MANAGERS_MADE, body=dated.terms),
    Row("POST", "carton-designs/", MANAGERS_MADE_OF_OURS, body=dated.design),
    *(row for subject in dated.STEPPED for row in steps(*subject)),
    Row("POST", "terms/<int:pk>/confirm/", MANAGERS_ONE, dated.own_terms),
    Row("POST", "terms/<int:pk>/end/", MANAGERS_ONE, dated.own_terms, dated.ends),
    Row("POST", "terms/<int:pk>/withdraw/", MANAGERS_DONE_ONE, dated.coming_terms),
    Row("POST", "buyer-limits/<int:pk>/end/", MANAGERS_ONE, dated.started_limit, dated.ends),
    Row("POST", "buyer-limits/<int:pk>/withdraw/", MANAGERS_DONE_ONE, dated.coming_limit),
    Row("POST", "carton-designs/<slug:slug>/end/", MANAGERS_ONE, dated.started_design, dated.ends),
    Row("POST", "carton-designs/<slug:slug>/withdraw/", MANAGERS_REFUSED_ONE, dated.started_design),
    Row("GET", "history/", MANAGERS),
    Row("GET", "old-prices/", MEMBERS),
    Row("POST", "what-if/", (401, 403, 403, 403, 200, 403, 400), body=dated.trial),
    # what is stored
    *(row for route in ROUTES for row in stored(route)),
    # what is worked out
    Row("GET", "cost/", ALL_LET_IN),
    Row("GET", "departures/", ALL_LET_IN),
    Row("GET", "departures/<slug:name>/", ALL_LET_IN, lambda _it: "1-20260302-common"),
    Row("GET", "departures/<slug:name>/reckoning/", ALL_LET_IN, lambda _it: "1-20260302-common"),
    Row("GET", "freezing/", ALL_LET_IN),
    Row("GET", "hold/", ALL_LET_IN),
    Row("GET", "ways/", MEMBERS_LET_IN),
    # what all this is
    Row("GET", "schema/", ALL, anybody=True),
    Row("GET", "", (404,) * 7, anybody=True),
)
