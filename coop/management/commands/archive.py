from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from coop.errors import Failure
from coop.models import Cooperative
from coop.services.archive import archive_of, take_in_archive

TAKEN_IN = """{name} is here, with all that it owns.
Tokens stayed behind: `manage.py enrol {slug} <manager>` lets the first one in."""


class Command(BaseCommand):
    help = "Writes all that a cooperative owns into one file, or takes such a file in where it is not yet."

    def add_arguments(self, parser):
        ways = parser.add_subparsers(dest="way", required=True)
        out = ways.add_parser("out", help="write an archive")
        out.add_argument("cooperative", help="its short name, as in the tables")
        out.add_argument("file", type=Path, help="the archive, which must not be there yet")
        into = ways.add_parser("in", help="take an archive in, whole or not at all")
        into.add_argument("file", type=Path, help="the archive")

    def handle(self, *, way, file, cooperative=None, **_options):
        try:
            if way == "out":
                self.write(cooperative, file)
            else:
                self.take_in(file)
        except OSError as failure:
            raise CommandError(f"{file}: {failure.strerror}.") from failure

    def write(self, slug, file):
        found = Cooperative.objects.filter(slug=slug).first()
        if found is None:
            raise CommandError(f"There is no cooperative {slug}: its short name stands in the tables.")
        content = archive_of(cooperative=found)
        with file.open("xb") as handle:
            handle.write(content)
        self.stdout.write(f"{found.name}: {len(content)} bytes in {file}")

    def take_in(self, file):
        try:
            found = take_in_archive(file.read_bytes())
        except Failure as refused:
            lines = [f"{one.field}: {one.problem}; right is {one.right}" for one in refused.problems]
            raise CommandError("\n".join([refused.message, *lines, "Nothing was taken in."])) from refused
        self.stdout.write(TAKEN_IN.format(name=found.name, slug=found.slug))
