from rest_framework import serializers

from api.changes import Confirmation, ConfirmedChangeIn, Ending, Withdrawal, changed
from api.figures import INVENTED, Dated, Figured
from api.filtering import DatedFilters
from api.question import Number
from api.roles import MANAGERS, VISITORS
from api.stored import Row, Rows
from coop.selectors.terms import terms_of
from coop.services.terms import change_terms

FIGURES = {
    "confidence": 0.95,
    "softened_share_limit": 0.05,
    "closing_lead_minutes": 45.0,
    "electricity_price_minor_per_kwh": 250,
    "freezing_kwh_per_kg": 0.38,
    "labour_price_minor_per_hour": 2000,
    "packing_minutes_per_carton": 30.0,
    "stale_after_days": 30,
}


class TermsOut(Figured, Dated):
    id = serializers.IntegerField()
    confidence = serializers.FloatField()
    softened_share_limit = serializers.FloatField()
    closing_lead_minutes = serializers.FloatField()
    electricity_price_minor_per_kwh = serializers.IntegerField()
    freezing_kwh_per_kg = serializers.FloatField()
    labour_price_minor_per_hour = serializers.IntegerField()
    packing_minutes_per_carton = serializers.FloatField()
    stale_after_days = serializers.IntegerField()
    confirmed_on = serializers.DateField()

    example = {
        "id": 1,
        **FIGURES,
        "confirmed_on": "2026-02-20",
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class TermsIn(ConfirmedChangeIn):
    """Figures that are left out stay as they are on that day."""

    confidence = Number(min_value=0.5, max_value=0.999, required=False)
    softened_share_limit = Number(min_value=0.001, max_value=0.5, required=False)
    closing_lead_minutes = Number(min_value=0, max_value=1440, required=False)
    electricity_price_minor_per_kwh = serializers.IntegerField(min_value=0, max_value=10**12, required=False)
    freezing_kwh_per_kg = Number(min_value=0, max_value=5, required=False)
    labour_price_minor_per_hour = serializers.IntegerField(min_value=0, max_value=10**12, required=False)
    packing_minutes_per_carton = Number(min_value=0, max_value=480, required=False)
    stale_after_days = serializers.IntegerField(min_value=1, max_value=365, required=False)

    example = {**ConfirmedChangeIn.example, "labour_price_minor_per_hour": 2200}


class TermsList(Rows):
    """What the cooperative calls safe, and what work and electricity cost it, over time."""

    may = {"GET": VISITORS, "POST": MANAGERS}
    select = staticmethod(terms_of)
    filters = DatedFilters
    body = {"POST": TermsIn}
    output = TermsOut
    status = {"POST": 201}

    def post(self, request):
        return changed(self, request, TermsIn, change_terms, lambda asked, _cooperative: asked)


class TermsOne(Row):
    """Terms of one span of days."""

    may = {"GET": VISITORS}
    select = staticmethod(terms_of)
    output = TermsOut


class TermsConfirmation(Confirmation):
    """Somebody asked: these terms are still right."""

    select = staticmethod(terms_of)
    output = TermsOut


class TermsEnding(Ending):
    """From a day on these terms no longer count."""

    select = staticmethod(terms_of)
    output = TermsOut


class TermsWithdrawal(Withdrawal):
    """A change that has not begun is taken back."""

    select = staticmethod(terms_of)
