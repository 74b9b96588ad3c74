"""Files that go out, each as it can come in again: tables, timetables as a feed, everything."""

from django.http import Http404, HttpResponse
from rest_framework import serializers
from rest_framework.views import APIView

from api.cooperative import person_of
from api.csv_columns import cells_of
from api.csv_rows import written
from api.csv_subjects import SUBJECTS
from api.gtfs_out import feed_bytes
from api.negotiation import OneForm
from api.question import nothing_asked, read
from api.roles import MANAGERS
from coop.selectors.timetables import timetables_in_full
from coop.services.archive import archive_of

SEPARATORS = {"comma": ",", "semicolon": ";"}


class TableQuestion(serializers.Serializer):
    separator = serializers.ChoiceField(
        choices=tuple(SEPARATORS),
        default="comma",
        help_text="comma with decimal points, or semicolon with decimal commas",
    )


class Export(APIView):
    """All of one subject, past days too, as a table that comes in again and changes nothing."""

    may = {"GET": MANAGERS}
    content_negotiation_class = OneForm
    question = TableQuestion
    download = "text/csv"
    example = "species,valid_from,valid_until,bought_zmw_per_kg,sold_zmw_per_kg,soft_zmw_per_kg\r\n"

    def get(self, request, subject):
        if subject not in SUBJECTS:
            raise Http404
        asked, cooperative = read(TableQuestion, request), person_of(request).cooperative
        separator = SEPARATORS[asked["separator"]]
        columns = SUBJECTS[subject].columns(cooperative)
        lines = SUBJECTS[subject].takes.lines(cooperative)
        content = written(
            [column.name for column in columns],
            (cells_of(values, columns, separator) for values in lines),
            separator,
        )
        return file_answer(content, "text/csv; charset=utf-8", f"{subject}.csv")


class FeedExport(APIView):
    """The timetables as a GTFS feed; what the standard has no field for stands in a file of our own."""

    may = {"GET": MANAGERS}
    content_negotiation_class = OneForm
    download = "application/zip"
    example = "a zip of text files"

    def get(self, request):
        nothing_asked(request)
        cooperative = person_of(request).cooperative
        content = feed_bytes(cooperative, timetables_in_full(cooperative), request.build_absolute_uri("/"))
        return file_answer(content, "application/zip", f"{cooperative.slug}-gtfs.zip")


class ArchiveExport(APIView):
    """Everything that the cooperative owns as one file; `manage.py archive in` takes it in elsewhere."""

    may = {"GET": MANAGERS}
    content_negotiation_class = OneForm
    download = "application/zip"
    example = "a zip of tables, one row a line"

    def get(self, request):
        nothing_asked(request)
        person = person_of(request)
        content = archive_of(by=person.member, cooperative=person.cooperative)
        return file_answer(content, "application/zip", f"{person.cooperative.slug}-archive.zip")


def file_answer(content, form, name):
    answer = HttpResponse(content, content_type=form)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    answer["Cache-Control"] = "private, no-store"
    return answer
