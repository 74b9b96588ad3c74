"""All that a cooperative owns as one file, out and in again.

A zip of one table a file, one row a line, and `manifest.json`, which says digest and rows of each. The same
rows make the same bytes. In comes an archive whole or not at all, where no such cooperative is.
"""

import hashlib
import json
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from django.db import connection, transaction
from django.db.migrations.recorder import MigrationRecorder

from coop.errors import Conflict, Invalid, Problem, invalid
from coop.models import Cooperative, Member
from coop.selectors.archive import LEFT_OUT, SECRETS, Belongings, tables
from coop.services.archive_checks import require_sound
from coop.services.archive_rows import Arrival
from coop.services.archive_zip import read_files
from coop.services.refusals import put_aside
from coop.services.roles import require_manager, require_own

FORMAT = 1
MANIFEST = "manifest.json"
WRITTEN_AT = (1980, 1, 1, 0, 0, 0)
"""A time would make two archives of the same rows differ."""


def archive_of(*, cooperative: Cooperative, by: Member | None = None) -> bytes:
    """The archive of a cooperative; `by` None is whoever keeps the server."""
    if by is not None:
        require_manager(by, "take everything out")
        require_own(by, by)
    with transaction.atomic():
        belongings = Belongings(cooperative)
        files = {file_name(model): text_of(belongings.lines(model)) for model in tables()}
    manifest = {
        "format": FORMAT,
        "cooperative": cooperative.slug,
        "migration": last_migration(),
        "left_out": sorted({*LEFT_OUT.values(), *SECRETS.values()}),
        "files": {name: described(content) for name, content in files.items()},
    }
    packed = BytesIO()
    with ZipFile(packed, "w") as archive:
        for name, content in ((MANIFEST, json_line(manifest)), *files.items()):
            archive.writestr(ZipInfo(name, WRITTEN_AT), content, ZIP_DEFLATED)
    return packed.getvalue()


@transaction.atomic
def take_in_archive(content: bytes) -> Cooperative:
    """The cooperative of an archive, with all that it owns; after Invalid or Conflict nothing is written.

    What the database refuses of single changes (that a parcel begins open, say) is put aside while rows of
    years come in at once, and there again before anybody else sees them.
    """
    files = read_files(content)
    manifest = manifest_of(files)
    require_same(manifest, files)
    if Cooperative.objects.filter(slug=manifest["cooperative"]).exists():
        wrong = Problem("cooperative", manifest["cooperative"], "is here already", "a server without it")
        raise Conflict("This cooperative is here already: nothing was taken in.", wrong)

    arrival = Arrival({model: lines_of(file_name(model), files) for model in tables()})
    with put_aside():
        arrival.write()
    require_sound(arrival)
    connection.check_constraints()
    return arrival.cooperative(manifest["cooperative"])


def file_name(model):
    return f"{model._meta.model_name}.jsonl"


def json_line(value):
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False)


def text_of(lines):
    return "".join(f"{json_line(line)}\n" for line in lines)


def described(content):
    return {"sha256": hashlib.sha256(content.encode()).hexdigest(), "rows": content.count("\n")}


def last_migration():
    """The name of the last change of the tables: an archive fits tables of the same only."""
    applied = MigrationRecorder(connection).applied_migrations()
    return max((name for app, name in applied if app == "coop"), default="")


def manifest_of(files):
    manifest = parsed(MANIFEST, 1, files.pop(MANIFEST, "null"))
    known = {"format", "cooperative", "migration", "left_out", "files"}
    if not isinstance(manifest, dict) or set(manifest) != known or not isinstance(manifest["files"], dict):
        raise invalid(MANIFEST, None, "is missing or says something else", f"an object of {', '.join(known)}")
    for name, right in (("format", FORMAT), ("migration", last_migration())):
        if manifest[name] != right:
            raise invalid(f"{MANIFEST}, {name}", manifest[name], "is of another version", right)
    return manifest


def require_same(manifest, files):
    """Refuses files that are not those that the manifest describes, byte for byte."""
    wanted = {file_name(model) for model in tables()}
    if set(manifest["files"]) != wanted or set(files) != wanted:
        odd = sorted((set(manifest["files"]) | set(files)) ^ wanted)
        raise invalid("archive", ", ".join(odd), "lacks files, or has others", "the files of its manifest")
    changed = [name for name, content in files.items() if manifest["files"][name] != described(content)]
    if changed:
        problems = [
            Problem(name, None, "is not what the manifest says", "the file as it went out")
            for name in changed
        ]
        raise Invalid(f"{changed[0]}: is not what the manifest says.", *problems)


def lines_of(name, files):
    return [parsed(name, number, line) for number, line in enumerate(files[name].splitlines(), start=1)]


def parsed(name, number, line):
    try:
        return json.loads(line)
    except (ValueError, RecursionError) as broken:
        raise invalid(f"{name} line {number}", line[:80], "is no JSON", "a line as it went out") from broken
