from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import cooperative_of, today_of
from api.question import nothing_asked
from api.roles import MEMBERS
from coop.selectors.old_prices import old_prices_of
from coop.selectors.subjects import SUBJECTS


class OldPriceOut(serializers.Serializer):
    subject = serializers.ChoiceField(choices=[word for word, one in SUBJECTS.items() if one.is_confirmed])
    id = serializers.IntegerField()
    name = serializers.CharField()
    confirmed_on = serializers.DateField(allow_null=True, help_text="null: nobody confirmed it yet")
    days = serializers.IntegerField(allow_null=True, help_text="since then")

    example = {
        "subject": "tariffs",
        "id": 2,
        "name": "Night minibus, Mpulungu – Kasama",
        "confirmed_on": "2026-01-20",
        "days": 41,
    }


class OldPricesOut(serializers.Serializer):
    old_prices = OldPriceOut(many=True, help_text="the longest unconfirmed first")

    example = {"old_prices": [OldPriceOut.example]}


class OldPrices(APIView):
    """What counts now or later and was not confirmed for `stale_after_days` of the terms."""

    may = {"GET": MEMBERS}
    output = OldPricesOut

    def get(self, request):
        nothing_asked(request)
        cooperative = cooperative_of(request)
        found = old_prices_of(cooperative, today_of(cooperative))
        return Response({"old_prices": [old_price_of(one) for one in found]})


def old_price_of(one):
    return {
        "subject": one.subject.word,
        "id": one.row.pk,
        "name": one.subject.name(one.row),
        "confirmed_on": one.confirmed_on,
        "days": one.days,
    }
