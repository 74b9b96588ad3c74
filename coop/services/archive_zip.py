"""The files of an archive, refused before they are unpacked where nobody would have made them."""

import zlib
from io import BytesIO
from zipfile import BadZipFile, ZipFile

from coop.errors import TooLarge, invalid

MOST_FILES = 200
MOST_UNPACKED = 1024 * 1024 * 1024
RIGHT = "a file that went out of here as an archive"
# What the library raises for bytes that are no zip, or one that is made in a way that it does not know.
BROKEN = (BadZipFile, zlib.error, EOFError, OSError, ValueError, RuntimeError)


def read_files(content: bytes) -> dict:
    """{name: text} of the files of a zip; raises Invalid or TooLarge."""
    try:
        with ZipFile(BytesIO(content)) as archive:
            members = archive.infolist()
            require_sensible(members)
            return {member.filename: archive.read(member).decode("utf-8") for member in members}
    except BROKEN as broken:
        raise invalid("archive", None, "cannot be unpacked", RIGHT) from broken


def require_sensible(members):
    names = [member.filename for member in members]
    if len(names) > MOST_FILES or len(set(names)) < len(names):
        raise invalid("archive", f"{len(names)} files", "has too many files, or one twice", RIGHT)
    if sum(member.file_size for member in members) > MOST_UNPACKED:
        raise TooLarge(f"This archive is too large unpacked; right is at most {MOST_UNPACKED} bytes.")
