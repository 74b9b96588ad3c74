from rest_framework import serializers

from api.buyers import BuyerName
from api.changes import Confirmation, ConfirmedChangeIn, Ending, Withdrawal, changed
from api.figures import INVENTED, Dated, Figured
from api.filtering import DatedFilters, OneOf, Slug
from api.question_fields import chosen
from api.roles import MANAGERS, VISITORS
from api.routes import RouteName
from api.stored import Row, Rows
from coop.selectors.buyers import buyers_of
from coop.selectors.charges import charges_of
from coop.selectors.routes import routes_of
from coop.services.charges import change_charge

KINDS = ("handling", "levy", "papers", "receiver", "freezing_energy")
BASES = ("consignment", "carton", "kilogram")


class ChargeOut(Figured, Dated):
    id = serializers.IntegerField()
    route = RouteName(allow_null=True)
    buyer = BuyerName(allow_null=True)
    kind = serializers.CharField()
    name = serializers.CharField()
    basis = serializers.CharField()
    amount_minor = serializers.IntegerField()
    confirmed_on = serializers.DateField()

    example = {
        "id": 6,
        "route": RouteName.example,
        "buyer": None,
        "kind": "levy",
        "name": "Levy at the district border",
        "basis": "carton",
        "amount_minor": 1000,
        "confirmed_on": "2026-02-20",
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class ChargeIn(ConfirmedChangeIn):
    route = serializers.SlugField(
        max_length=64, allow_null=True, default=None, help_text="short name of a route; null: on every route"
    )
    buyer = serializers.SlugField(
        max_length=64, allow_null=True, default=None, help_text="short name of a buyer; null: for every buyer"
    )
    kind = serializers.ChoiceField(choices=KINDS)
    name = serializers.CharField(max_length=120)
    basis = serializers.ChoiceField(choices=BASES)
    amount_minor = serializers.IntegerField(min_value=0, max_value=10**12)

    example = {
        **ConfirmedChangeIn.example,
        "route": "mpulungu-kasama",
        "buyer": None,
        "kind": "levy",
        "name": "Levy at the district border",
        "basis": "carton",
        "amount_minor": 1200,
    }


class ChargeFilters(DatedFilters):
    route = Slug(field_name="route__slug")
    buyer = Slug(field_name="buyer__slug")
    kind = OneOf(*KINDS)
    basis = OneOf(*BASES)


class Charges(Rows):
    """What is paid besides fare and materials: everywhere, on one route, or for one buyer."""

    may = {"GET": VISITORS, "POST": MANAGERS}
    select = staticmethod(charges_of)
    filters = ChargeFilters
    body = {"POST": ChargeIn}
    output = ChargeOut
    status = {"POST": 201}

    def post(self, request):
        return changed(self, request, ChargeIn, change_charge, charge_named)


def charge_named(asked, cooperative):
    """A charge with rows in place of the words that name them."""
    named = {"route": routes_of, "buyer": buyers_of}
    return {
        **asked,
        **{
            name: asked[name] and chosen(rows_of(cooperative), name, asked[name])
            for name, rows_of in named.items()
        },
    }


class Charge(Row):
    """One charge."""

    may = {"GET": VISITORS}
    select = staticmethod(charges_of)
    output = ChargeOut


class ChargeConfirmation(Confirmation):
    """Somebody asked: this charge is still right."""

    select = staticmethod(charges_of)
    output = ChargeOut


class ChargeEnding(Ending):
    """From a day on this charge no longer counts."""

    select = staticmethod(charges_of)
    output = ChargeOut


class ChargeWithdrawal(Withdrawal):
    """A change that has not begun is taken back."""

    select = staticmethod(charges_of)
