"""Quotes for buyers: made from a departure, sent by a link, taken back, told when they would lose money."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.filtering import Id, OneOf, Slug
from api.given import Given, known
from api.lots import LOT_ID, lots_for
from api.parcels_reasons import told
from api.question import Number, nothing_asked
from api.question_fields import LARGEST, Instant, chosen
from api.quote_words import LANGUAGES, USUAL, share_text
from api.quotes_item import losing_item, quote_item
from api.quotes_shapes import (
    SUPPLY_ID,
    LosingOut,
    QuoteOut,
    SentOut,
)
from api.roles import MEMBERS, PACKERS
from api.sign_in import NothingIn
from api.stored import Row, Rows, one_of
from coop.errors import invalid
from coop.selectors.buyers import buyers_of
from coop.selectors.cartons import carton_designs_of
from coop.selectors.members import members_of
from coop.selectors.quotes import QUOTE_STATES, own_quotes, quotes_of, supplies_of
from coop.selectors.quotes_losing import losing_quotes
from coop.selectors.species import all_species
from coop.selectors.timetables import timetables_of
from coop.services.quotes import Fish, Wanted, make_quote, preview_quote, renew_link, revoke_quote

DEPARTURE = "a departure with a carton, such as 7-20260302-common-carton"


class FishIn(serializers.Serializer):
    """Fish that no quote draws on yet and that is no lot."""

    member = serializers.IntegerField(
        min_value=1, max_value=LARGEST, required=False, help_text="id of its owner; else whoever asks"
    )
    species = serializers.CharField(max_length=3, help_text="three letters of FAO ASFIS such as IRQ")
    mass_kg = Number(min_value=0.1, max_value=5000)
    frozen_since = Instant()
    ready_at = Instant()
    start_temperature_c = Number(min_value=-45, max_value=-2.5)

    example = {
        "member": 3,
        "species": "IRQ",
        "mass_kg": 60.0,
        "frozen_since": "2026-02-28T06:00:00+02:00",
        "ready_at": "2026-03-01T06:00:00+02:00",
        "start_temperature_c": -18.0,
    }


class QuoteIn(Given):
    departure = serializers.SlugField(max_length=100, help_text=DEPARTURE)
    buyer = serializers.SlugField(max_length=64, help_text="short name of a buyer at the end of the route")
    becomes = serializers.ChoiceField(choices=["lot", "parcel"], help_text="once it is accepted")
    supply = serializers.UUIDField(required=False, allow_null=True, help_text="fish of another quote")
    lot = serializers.UUIDField(
        required=False, allow_null=True, help_text="what is left of a lot: what is accepted is promised of it"
    )
    fish = FishIn(required=False, allow_null=True)
    profit_kind = serializers.ChoiceField(choices=["mark_up", "margin"])
    profit_share = Number(min_value=0, max_value=10, help_text="0.25 is a quarter; a margin up to 0.95")
    valid_until = Instant(required=False, allow_null=True)
    deliver_by = Instant(required=False, allow_null=True)
    language = serializers.ChoiceField(
        choices=LANGUAGES, required=False, help_text="of the buyer; else that of the cooperative"
    )

    example = {
        **Given.example,
        "departure": "7-20260302-common-carton",
        "buyer": "city-market",
        "becomes": "lot",
        "supply": None,
        "lot": None,
        "fish": FishIn.example,
        "profit_kind": "mark_up",
        "profit_share": 0.25,
        "valid_until": None,
        "deliver_by": None,
        "language": "en",
    }


class QuoteFilters(FilterSet):
    state = OneOf(*QUOTE_STATES, field_name="shown_state")
    buyer = Slug(field_name="buyer__slug")
    supply = Id(field_name="supply__uuid")
    lot = Id(field_name="supply__lot__uuid")


def quotes_for(person):
    """What she made and what sells her fish; all of the cooperative for whoever packs."""
    now = timezone.now()
    if person.role in PACKERS:
        return quotes_of(person.cooperative, now)
    return own_quotes(person.cooperative, person.member, now)


class Quotes(Rows):
    """A member's own quotes, and for whoever packs all, the last one first; and making one."""

    may = {"GET": MEMBERS, "POST": MEMBERS}
    select_for = staticmethod(quotes_for)
    filters = QuoteFilters
    body = {"POST": QuoteIn}
    output = {"GET": QuoteOut, "POST": SentOut}
    status = {"POST": 201}

    def post(self, request):
        asked, person = read_body(QuoteIn, request), person_of(request)
        with told(ZoneInfo(person.cooperative.time_zone)):
            issued = make_quote(by=person.member, wanted=wanted_of(asked, person), uuid=asked.get("uuid"))
        return Response(sent(issued, request), status=201 if issued.secret else 200)


class Quote(Row):
    """One quote, with the bill behind its prices."""

    may = {"GET": MEMBERS}
    select_for = staticmethod(quotes_for)
    output = QuoteOut


class Preview(APIView):
    """A quote as it would be; nothing is written."""

    may = {"POST": MEMBERS}
    body = {"POST": QuoteIn}
    output = QuoteOut

    def post(self, request):
        asked, person = read_body(QuoteIn, request), person_of(request)
        with told(ZoneInfo(person.cooperative.time_zone)):
            quote = preview_quote(by=person.member, wanted=wanted_of(asked, person))
        return Response(quote_item(quote))


class Revocation(APIView):
    """Takes a quote back that nobody has answered; its link says so from now on."""

    may = {"POST": MEMBERS}
    body = {"POST": NothingIn}
    output = QuoteOut

    def post(self, request, uuid):
        person = person_of(request)
        quote = one_of(quotes_for(person), uuid=uuid)
        read_body(NothingIn, request)
        return Response(quote_item(revoke_quote(by=person.member, quote=quote)))


class RenewedLink(APIView):
    """A new link for a quote; the one before opens nothing any more."""

    may = {"POST": MEMBERS}
    body = {"POST": NothingIn}
    output = SentOut

    def post(self, request, uuid):
        person = person_of(request)
        quote = one_of(quotes_for(person), uuid=uuid)
        read_body(NothingIn, request)
        return Response(sent(renew_link(by=person.member, quote=quote), request))


class LosingQuotesOut(serializers.Serializer):
    quotes = LosingOut(many=True)

    example = {"quotes": [LosingOut.example]}


class LosingQuotes(APIView):
    """Quotes that would now lose money, the worst first, and which lines of their cost have moved."""

    may = {"GET": PACKERS}
    output = LosingQuotesOut

    def get(self, request):
        nothing_asked(request)
        found = losing_quotes(person_of(request).cooperative, now=timezone.now())
        return Response({"quotes": [losing_item(one) for one in found]})


def sent(issued, request):
    """SentOut of a service's Issued."""
    address = issued.secret and request.build_absolute_uri(f"/q/{issued.secret}/")
    text = address and share_text(issued.quote, address)
    return {"quote": quote_item(issued.quote), "address": address, "text": text}


def wanted_of(asked, person):
    """What a service takes: rows in place of the words that name them."""
    cooperative = person.cooperative
    usual = cooperative.language if cooperative.language in LANGUAGES else USUAL
    plain = ("becomes", "profit_kind", "profit_share", "valid_until", "deliver_by")
    return Wanted(
        **departure_named(asked["departure"], cooperative),
        **{name: asked.get(name) for name in plain},
        buyer=chosen(buyers_of(cooperative), "buyer", asked["buyer"]),
        supply=supply_named(asked.get("supply"), person),
        lot=lot_named(asked.get("lot"), person),
        fish=asked.get("fish") and fish_named(asked["fish"], person),
        language=asked.get("language") or usual,
    )


def departure_named(name, cooperative):
    """Timetable, day and carton of a departure, as its page and every plan name it."""
    timetable, _, rest = name.partition("-")
    day, _, slug = rest.partition("-")
    try:
        key, date = int(timetable), datetime.strptime(day, "%Y%m%d").date()
    except ValueError:
        raise invalid("departure", name, "is no name of a departure", DEPARTURE) from None
    designs = carton_designs_of(cooperative).on(date)
    return {
        "timetable": chosen(timetables_of(cooperative), "departure", key, key="pk"),
        "date": date,
        "design": chosen(designs, "departure", slug),
    }


def supply_named(uuid, person):
    """A supply of hers, or of anybody here for whoever packs."""
    if uuid is None:
        return None
    supplies = supplies_of(person.cooperative)
    hers = supplies if person.role in PACKERS else supplies.filter(member=person.member)
    return known(hers, "supply", uuid, f"the id of a supply such as {SUPPLY_ID}")


def lot_named(uuid, person):
    """A lot of hers, or of anybody here for whoever packs."""
    if uuid is None:
        return None
    return known(lots_for(person), "lot", uuid, f"the id of a lot such as {LOT_ID}")


def fish_named(asked, person):
    member = asked.get("member")
    return Fish(
        **{name: value for name, value in asked.items() if name not in ("member", "species")},
        species=chosen(all_species(), "species", asked["species"], key="code"),
        member=chosen(members_of(person.cooperative), "member", member, key="pk")
        if member
        else person.member,
    )
