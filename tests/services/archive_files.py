"""What is in an archive, and archives of which somebody has changed some lines."""

import json
from io import BytesIO
from zipfile import ZipFile

from coop.services.archive import described, json_line


def unpacked(archive):
    with ZipFile(BytesIO(archive)) as files:
        return {name: files.read(name).decode() for name in files.namelist()}


def rows(archive, name):
    return [json.loads(line) for line in unpacked(archive)[f"{name}.jsonl"].splitlines()]


def packed(files, *, honest=True):
    """A zip of these files; `honest`: its manifest says what is in them."""
    if honest:
        manifest = json.loads(files["manifest.json"])
        manifest["files"] = {name: described(text) for name, text in files.items() if name != "manifest.json"}
        files = {**files, "manifest.json": json_line(manifest)}
    content = BytesIO()
    with ZipFile(content, "w") as archive:
        for name, text in files.items():
            archive.writestr(name, text)
    return content.getvalue()


def edited(archive, name, change, *, honest=True):
    """The archive after `change(lines)` of one of its tables."""
    return changed(archive, lambda tables: change(tables[name]), honest=honest)


def changed(archive, change, *, honest=True):
    """The archive after `change({table: lines})`."""
    files = unpacked(archive)
    tables = {
        name.removesuffix(".jsonl"): [json.loads(line) for line in text.splitlines()]
        for name, text in files.items()
        if name.endswith(".jsonl")
    }
    change(tables)
    for name, lines in tables.items():
        files[f"{name}.jsonl"] = "".join(f"{json_line(line)}\n" for line in lines)
    return packed(files, honest=honest)
