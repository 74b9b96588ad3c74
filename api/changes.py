"""What every dated subject has beside its own figures: from when it counts, and the steps after that."""

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.question_fields import Day, Note
from api.roles import MANAGERS
from api.stored import one_of
from coop.services import changes

A_DAY = "a date such as 2026-03-02"
UNTIL = f"{A_DAY} on which it no longer counts; null or left out: it goes on"


class ChangeIn(serializers.Serializer):
    """A subject's own figures come beside these."""

    valid_from = Day(help_text=f"{A_DAY}, today or later, from which it counts")
    valid_until = Day(allow_null=True, required=False, help_text=UNTIL)
    note = Note()

    example = {"valid_from": "2026-03-03", "valid_until": None, "note": "heard at the taxi park"}


class ConfirmedChangeIn(ChangeIn):
    confirmed_on = Day(required=False, help_text=f"{A_DAY} on which somebody asked; today if left out")

    example = {**ChangeIn.example, "confirmed_on": "2026-03-02"}


class NoteIn(serializers.Serializer):
    note = Note()

    example = {"note": "a rumour"}


class EndIn(NoteIn):
    valid_until = Day(help_text=f"{A_DAY}, the first on which it no longer counts")

    example = {**NoteIn.example, "valid_until": "2026-03-31"}


class NothingIn(serializers.Serializer):
    example = {}


class Step(APIView):
    """One step with one dated row; a subject says in `select` and `output` which rows and how they look."""

    may = {"POST": MANAGERS}
    select = output = None

    def row(self, request, person, **named):
        """The row that the address names, if it is ours."""
        return one_of(self.select(person.cooperative), **named)

    def shown(self, row, person):
        """The row as its list shows it."""
        row = one_of(self.select(person.cooperative), pk=row.pk)
        return Response(self.output(row, context={"person": person}).data)


class Confirmation(Step):
    body = {"POST": NothingIn}

    def post(self, request, **named):
        read_body(NothingIn, request)
        person = person_of(request)
        row = self.row(request, person, **named)
        return self.shown(changes.confirm(row, person.member, now=timezone.now()), person)


class Ending(Step):
    body = {"POST": EndIn}
    parameters = ()

    def post(self, request, **named):
        asked, person = read_body(EndIn, request, besides=self.parameters), person_of(request)
        row = self.row(request, person, **named)
        ended = changes.end(row, asked["valid_until"], person.member, asked["note"], now=timezone.now())
        return self.shown(ended, person)


class Withdrawal(Step):
    """Answers with nothing: what counted before goes on."""

    body = {"POST": NoteIn}
    status = {"POST": 204}
    output = None
    parameters = ()

    def post(self, request, **named):
        asked, person = read_body(NoteIn, request, besides=self.parameters), person_of(request)
        row = self.row(request, person, **named)
        changes.withdraw(row, person.member, asked["note"], now=timezone.now())
        return Response(status=204)


def changed(view, request, body, change, rows_of):
    """What a list answers when its subject changes; `rows_of` turns words of the body into our rows."""
    asked, person = read_body(body, request), person_of(request)
    row = change(by=person.member, **rows_of(asked, person.cooperative), now=timezone.now())
    row = one_of(view.select(person.cooperative), pk=row.pk)
    output = view.output["POST"] if isinstance(view.output, dict) else view.output
    return Response(output(row, context={"person": person}).data, status=201)
