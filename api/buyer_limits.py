from rest_framework import serializers

from api.buyers import BuyerName
from api.changes import ChangeIn, Ending, Withdrawal, changed
from api.figures import INVENTED, Dated, Figured
from api.filtering import DatedFilters, OneOf, Slug
from api.question import Number
from api.question_fields import LIMITS, chosen
from api.roles import MANAGERS, VISITORS
from api.stored import Row, Rows
from coop.selectors.buyer_limits import buyer_limits_of
from coop.selectors.buyers import buyers_of
from coop.services.buyer_limits import change_buyer_limit


class BuyerLimitOut(Figured, Dated):
    id = serializers.IntegerField()
    buyer = BuyerName()
    limit_kind = serializers.CharField()
    limit_value = serializers.FloatField()

    example = {
        "id": 2,
        "buyer": BuyerName.example,
        "limit_kind": "softened_share",
        "limit_value": 0.05,
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class BuyerLimitIn(ChangeIn):
    buyer = serializers.SlugField(max_length=64, help_text="short name of a buyer")
    limit_kind = serializers.ChoiceField(choices=list(LIMITS))
    limit_value = Number(min_value=-40, max_value=0.5, help_text="a share such as 0.05, or °C such as -9")

    example = {**ChangeIn.example, "buyer": "city-market", "limit_kind": "core_c", "limit_value": -9.0}


class BuyerLimitFilters(DatedFilters):
    buyer = Slug(field_name="buyer__slug")
    limit_kind = OneOf(*LIMITS)


class BuyerLimits(Rows):
    """What buyers accept of the fish, over time."""

    may = {"GET": VISITORS, "POST": MANAGERS}
    select = staticmethod(buyer_limits_of)
    filters = BuyerLimitFilters
    body = {"POST": BuyerLimitIn}
    output = BuyerLimitOut
    status = {"POST": 201}

    def post(self, request):
        return changed(self, request, BuyerLimitIn, change_buyer_limit, buyer_named)


def buyer_named(asked, cooperative):
    return {**asked, "buyer": chosen(buyers_of(cooperative), "buyer", asked["buyer"])}


class BuyerLimit(Row):
    """One limit of one buyer."""

    may = {"GET": VISITORS}
    select = staticmethod(buyer_limits_of)
    output = BuyerLimitOut


class BuyerLimitEnding(Ending):
    """From a day on this limit no longer counts."""

    select = staticmethod(buyer_limits_of)
    output = BuyerLimitOut


class BuyerLimitWithdrawal(Withdrawal):
    """A change that has not begun is taken back."""

    select = staticmethod(buyer_limits_of)
