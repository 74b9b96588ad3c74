"""Shared cartons: who may see them, and opening one. What is done with them next is in `parcels_steps.py`."""

from zoneinfo import ZoneInfo

from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.filtering import OneOf, Slug, Truth, filtered
from api.given import Given, status_of
from api.lots import PARCEL_STATES
from api.pagination import PAGE_PARAMETERS, paged, read_page
from api.parcels_item import ParcelOut, parcel_item, parts_of
from api.parcels_reasons import told
from api.question import nothing_asked
from api.question_fields import LARGEST, Day, chosen
from api.roles import MEMBERS, PACKERS
from api.stored import one_of
from coop.selectors.buyers import buyers_of
from coop.selectors.cartons import carton_designs_of
from coop.selectors.parcel_judgement import judged_cartons
from coop.selectors.parcel_money import UNKNOWN, money_of, written_money
from coop.selectors.parcels import parcels_of, with_own
from coop.selectors.timetables import timetables_of
from coop.services.parcels import open_parcel


class ParcelIn(Given):
    timetable = serializers.IntegerField(min_value=1, max_value=LARGEST, help_text="id of a timetable")
    date = Day(help_text="a date such as 2026-03-02 on which it leaves")
    carton_design = serializers.SlugField(max_length=64)
    buyer = serializers.SlugField(max_length=64, help_text="short name of a buyer at the end of the route")
    cartons = serializers.IntegerField(min_value=1, max_value=1000, default=1)

    example = {
        **Given.example,
        "timetable": 7,
        "date": "2026-03-02",
        "carton_design": "common-carton",
        "buyer": "city-market",
        "cartons": 1,
    }


class ParcelFilters(FilterSet):
    state = OneOf(*PARCEL_STATES)
    route = Slug(field_name="route__slug")
    buyer = Slug(field_name="buyer__slug")
    mine = Truth(field_name="has_own")


class Parcels(APIView):
    """Parcels of the cooperative, the last to leave first, and whose fish lies in them."""

    may = {"GET": MEMBERS, "POST": PACKERS}
    filters = ParcelFilters
    body = {"POST": ParcelIn}
    output = ParcelOut
    status = {"POST": 201}

    def get(self, request):
        page, person = read_page(request, besides=ParcelFilters.base_filters), person_of(request)
        rows = with_own(parcels_of(person.cooperative), person.member)
        answer = paged(filtered(ParcelFilters, request, rows, besides=PAGE_PARAMETERS), request, **page)
        answer["results"] = parcels_shown(list(answer["results"]), person)
        return Response(answer)

    def post(self, request):
        asked, person, now = read_body(ParcelIn, request), person_of(request), timezone.now()
        with told(ZoneInfo(person.cooperative.time_zone)):
            parcel = open_parcel(by=person.member, **departure_named(asked, person.cooperative), now=now)
        return Response(parcel_shown(parcel, person), status=status_of(parcel.opened_at, now))


class Parcel(APIView):
    """One parcel; what it costs, and who asks pays of it, as it stands."""

    may = {"GET": MEMBERS}
    output = ParcelOut

    def get(self, request, uuid):
        nothing_asked(request)
        person = person_of(request)
        return Response(parcel_shown(one_of(parcels_of(person.cooperative), uuid=uuid), person))


def departure_named(asked, cooperative):
    """What a service takes: rows in place of the words that name them."""
    designs = carton_designs_of(cooperative).on(asked["date"])
    return {
        "timetable": chosen(timetables_of(cooperative), "timetable", asked["timetable"], key="pk"),
        "date": asked["date"],
        "design": chosen(designs, "carton_design", asked["carton_design"]),
        "buyer": chosen(buyers_of(cooperative), "buyer", asked["buyer"]),
        "cartons": asked["cartons"],
        "uuid": asked.get("uuid"),
    }


def parcel_shown(parcel, person):
    """ParcelOut of one parcel, of parcels_of, as this person may see it."""
    money = money_of(parcel, person.member) if sees_money(parcel, person) else UNKNOWN
    return parcel_item(parcel, person, judged_cartons([parcel]), money, timezone.now())


def parcels_shown(parcels, person):
    """The same of many in a fixed number of questions: of open ones no money, which takes a moment each."""
    judged, now = judged_cartons(parcels), timezone.now()
    money = written_money(person.cooperative, parcels, person.member)
    return [
        parcel_item(
            parcel,
            person,
            judged,
            money.get(parcel.pk, UNKNOWN) if sees_money(parcel, person) else UNKNOWN,
            now,
        )
        for parcel in parcels
    ]


def sees_money(parcel, person):
    """Who packs, and who shares the bill: of one with a single owner the bill is what she pays."""
    return person.role in PACKERS or any(part.lot.member_id == person.member.pk for part in parts_of(parcel))
