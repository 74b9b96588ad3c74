from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import person_of
from api.departures_item import InstantOut
from api.enrolment_codes import MemberName
from api.pagination import PageQuestion, paged
from api.question import read
from api.question_fields import LARGEST
from api.roles import MANAGERS
from api.rounding import written
from coop.selectors.history import KINDS, History
from coop.selectors.subjects import SUBJECTS


class FigureOut(serializers.Serializer):
    field = serializers.CharField(help_text="by the name that it has in its list")
    before = serializers.JSONField(allow_null=True)
    after = serializers.JSONField(allow_null=True)

    example = {"field": "amount_minor", "before": 1500, "after": 1600}


class ChangeOut(serializers.Serializer):
    at = InstantOut()
    by = MemberName(allow_null=True, help_text="null: by whoever keeps the server")
    subject = serializers.ChoiceField(choices=list(SUBJECTS))
    id = serializers.IntegerField(help_text="of the row that counts from valid_from on")
    name = serializers.CharField()
    kind = serializers.ChoiceField(choices=KINDS)
    valid_from = serializers.DateField()
    valid_until = serializers.DateField(allow_null=True)
    note = serializers.CharField(allow_blank=True)
    changes = FigureOut(many=True)

    example = {
        "at": "2026-03-02T09:12:00+02:00",
        "by": MemberName.example,
        "subject": "material-prices",
        "id": 5,
        "name": "Wood shavings",
        "kind": "begun",
        "valid_from": "2026-03-03",
        "valid_until": None,
        "note": "heard at the sawmill",
        "changes": [FigureOut.example],
    }


class ChangesOut(serializers.Serializer):
    count = serializers.IntegerField()
    next = serializers.CharField(allow_null=True)
    previous = serializers.CharField(allow_null=True)
    results = ChangeOut(many=True)

    example = {"count": 1, "next": None, "previous": None, "results": [ChangeOut.example]}


class HistoryQuestion(PageQuestion):
    subject = serializers.ChoiceField(choices=list(SUBJECTS), required=False)
    id = serializers.IntegerField(min_value=1, max_value=LARGEST, required=False)


class HistoryOfPrices(APIView):
    """Who changed which price, fare, hour, design, limit or terms: when, from what to what, and why."""

    may = {"GET": MANAGERS}
    question = HistoryQuestion
    output = ChangesOut

    def get(self, request):
        asked, person = read(HistoryQuestion, request), person_of(request)
        page = {name: asked.pop(name) for name in ("page", "page_size")}
        answer = paged(History(person.cooperative, **asked), request, **page)
        answer["results"] = [change_of(one, person.zone) for one in answer["results"]]
        return Response(answer)


def change_of(one, zone):
    """ChangeOut of a selectors' Change."""
    return {
        "at": written(one.at, zone),
        "by": one.by and {"id": one.by.pk, "name": one.by.name},
        "subject": one.subject.word,
        "id": one.id,
        "name": one.name,
        "kind": one.kind,
        "valid_from": one.valid_from,
        "valid_until": one.valid_until,
        "note": one.note,
        "changes": [
            {"field": figure.field, "before": figure.before, "after": figure.after} for figure in one.changes
        ],
    }
