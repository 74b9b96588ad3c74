"""Files that come in, checked whole and taken in whole: tables of one subject, timetables of a feed."""

from django.http import Http404
from django.utils import timezone
from rest_framework import serializers
from rest_framework.exceptions import UnsupportedMediaType
from rest_framework.parsers import BaseParser
from rest_framework.response import Response
from rest_framework.views import APIView

from api import csv_rows, gtfs_zip
from api.callers import limit
from api.cooperative import person_of
from api.csv_columns import values_of
from api.csv_subjects import SUBJECTS
from api.gtfs_departures import departures_of, require_same_hours
from api.gtfs_feed import feed_of
from api.negotiation import media_type_of
from api.question import Number, read
from api.question_fields import chosen
from api.roles import MANAGERS
from coop.errors import Invalid, Problem, TooLarge, invalid
from coop.selectors.carriers import carriers_of
from coop.selectors.routes import routes_of
from coop.services.gtfs import Figures, take_in_feed
from coop.services.imports import take_in

KINDS = ("new", "changed", "same")


class Bytes(BaseParser):
    """A file as it is; refused before it is read where it says itself that it is too long."""

    most = 0

    def parse(self, stream, media_type=None, parser_context=None):
        length = int(parser_context["request"].META.get("CONTENT_LENGTH") or 0)
        content = stream.read(self.most + 1) if length <= self.most else b""
        if max(length, len(content)) > self.most:
            raise TooLarge(f"This file is too long; right is at most {self.most} bytes.")
        return content


class CsvFile(Bytes):
    media_type = "text/csv"
    most = csv_rows.MOST_BYTES


class FeedFile(Bytes):
    media_type = "application/zip"
    most = gtfs_zip.MOST_BYTES


class DryRun(serializers.Serializer):
    dry_run = serializers.ChoiceField(
        choices=("yes", "no"), default="yes", help_text="yes: only the differences are told; no: it is done"
    )

    example = {"dry_run": "yes"}


class FeedQuestion(DryRun):
    """Which departures of a feed are whose; figures are for what a feed has no field for."""

    route = serializers.SlugField(help_text="the short name of one of your routes")
    carrier = serializers.IntegerField(min_value=1, help_text="the id of one of your carriers")
    from_stop = serializers.CharField(
        max_length=200, help_text="the stop_id where it leaves, or of its station"
    )
    trips = serializers.CharField(max_length=200, help_text="the route_id of the trips that are meant")
    delay_hours_mean = Number(required=False, min_value=0, max_value=72)
    delay_hours_cv = Number(required=False, min_value=0, max_value=5)
    seats_left = serializers.IntegerField(required=False, min_value=1, max_value=200)
    riders_per_hour = Number(required=False, min_value=0.01, max_value=500)

    example = {"route": "south", "carrier": 3, "from_stop": "lake", "trips": "bus", "dry_run": "yes"}


class FileChangeOut(serializers.Serializer):
    field = serializers.CharField()
    before = serializers.CharField(allow_null=True)
    after = serializers.CharField(allow_null=True)


class FileDifferenceOut(serializers.Serializer):
    line = serializers.CharField(help_text="where it stands in the file")
    kind = serializers.ChoiceField(choices=KINDS)
    name = serializers.CharField()
    changes = FileChangeOut(many=True)


class FileCountsOut(serializers.Serializer):
    new = serializers.IntegerField()
    changed = serializers.IntegerField()
    same = serializers.IntegerField()


class TakenInOut(serializers.Serializer):
    dry_run = serializers.BooleanField()
    counts = FileCountsOut()
    differences = FileDifferenceOut(many=True)

    example = {
        "dry_run": True,
        "counts": {"new": 0, "changed": 1, "same": 0},
        "differences": [
            {
                "line": "line 2",
                "kind": "changed",
                "name": "IRQ, 2026-03-02",
                "changes": [{"field": "bought_zmw_per_kg", "before": "30.00", "after": "32.50"}],
            }
        ],
    }


class Import(APIView):
    """Takes in a file of one subject, or tells what it would change. What a file does not name stays."""

    may = {"POST": MANAGERS}
    parser_classes = (CsvFile,)
    question = {"POST": DryRun}
    upload = {"POST": CsvFile.media_type}
    output = TakenInOut

    def post(self, request, subject):
        if subject not in SUBJECTS:
            raise Http404
        asked = read(DryRun, request)
        person, dry_run = person_of(request), asked["dry_run"] == "yes"
        limit("imports").spend(request)
        columns = SUBJECTS[subject].columns(person.cooperative)
        names = [column.name for column in columns]
        rows = values_of(csv_rows.table_of(file_of(request), names), columns)
        lines = [(f"line {number}", values) for number, values in rows]
        taken = taken_in(
            columns, by=person.member, subject=SUBJECTS[subject].takes, lines=lines, dry_run=dry_run
        )
        return Response(taken_item(taken, columns, dry_run))


class FeedImport(APIView):
    """Takes in timetables of a GTFS feed for one carrier on one route, or tells what it would change."""

    may = {"POST": MANAGERS}
    parser_classes = (FeedFile,)
    question = {"POST": FeedQuestion}
    upload = {"POST": FeedFile.media_type}
    output = TakenInOut

    def post(self, request):
        asked, person = read(FeedQuestion, request), person_of(request)
        cooperative, dry_run = person.cooperative, asked["dry_run"] == "yes"
        limit("imports").spend(request)
        route = chosen(routes_of(cooperative), "route", asked["route"])
        carrier = chosen(carriers_of(cooperative), "carrier", asked["carrier"], key="pk")
        feed = feed_of(file_of(request))
        require_same_hours(feed, cooperative.time_zone)
        figures = {name: asked.get(name) for name in FIGURES}
        departures = departures_of(
            feed, route=asked["trips"], stop=asked["from_stop"], figures=Figures(False, **figures)
        )
        taken = take_in_feed(
            by=person.member,
            carrier=carrier,
            route=route,
            departures=departures,
            dry_run=dry_run,
            now=timezone.now(),
        )
        return Response(taken_item(taken, SUBJECTS["timetables"].columns(cooperative), dry_run))


FIGURES = ("delay_hours_mean", "delay_hours_cv", "seats_left", "riders_per_hour")


def file_of(request):
    """The bytes that were sent."""
    content = request.data
    if isinstance(content, bytes):
        return content
    if any(parser.media_type == media_type_of(request) for parser in request.parsers):
        raise invalid("file", None, "is empty", "a file with a header and lines")
    raise UnsupportedMediaType(request.content_type or "nothing")


def taken_in(columns, **asked):
    """Takes lines in; a refusal names columns as the header of the file has them."""
    headers = {column.key: column.name for column in columns}
    try:
        return take_in(**asked, now=timezone.now())
    except Invalid as refused:
        problems = [renamed(problem, headers) for problem in refused.problems]
        raise csv_rows.refused(problems) from refused


def renamed(problem, headers):
    place, _, name = problem.field.rpartition(", ")
    field = f"{place}, {headers.get(name, name)}" if place else problem.field
    return Problem(field, problem.value, problem.problem, problem.right)


def taken_item(taken, columns, dry_run):
    """TakenInOut of what was taken in, values written as in a file with decimal points."""
    by_key = {column.key: column for column in columns}
    return {
        "dry_run": dry_run,
        "counts": taken.counts,
        "differences": [
            {
                "line": one.place,
                "kind": one.kind,
                "name": one.name,
                "changes": [change_item(change, by_key) for change in one.changes],
            }
            for one in taken.differences
        ],
    }


def change_item(change, by_key):
    inside, _, key = change.field.rpartition(", ")
    column = by_key[key]
    before, after = (
        None if value is None else column.text(value, ".") for value in (change.before, change.after)
    )
    return {"field": ", ".join(filter(None, (inside, column.name))), "before": before, "after": after}
