"""A zip that was made to do harm is refused before it is unpacked."""

from io import BytesIO
from zipfile import ZIP_BZIP2, ZIP_DEFLATED, ZipFile

import pytest

from api import gtfs_zip
from api.gtfs_zip import Faults, opened, records
from coop.errors import Invalid, TooLarge
from tests.api.feeds import FILES, zipped


@pytest.mark.parametrize(
    "name", ["../agency.txt", "/agency.txt", "feed/agency.txt", "a\\b.txt", ".hidden", "feed/", "a\x07.txt"]
)
def test_a_path_is_refused(name):
    with pytest.raises(Invalid, match="folder or a path"):
        opened(zipped(FILES | {name: "x"}))


def test_what_grows_too_large_is_refused_before_it_is_unpacked():
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED, compresslevel=9) as feed, feed.open("stops.txt", "w") as file:
        for _ in range(301):
            file.write(b"0" * 1024 * 1024)
    assert len(packed.getvalue()) < 1_000_000
    with pytest.raises(TooLarge, match="unpacked"):
        opened(packed.getvalue())


def test_a_zip_that_lies_about_its_size_is_read_no_further_than_it_says(monkeypatch):
    content = bytearray(zipped({"stops.txt": "stop_id\n" + "a\n" * 5000}))
    size = (8 + 10_000).to_bytes(4, "little")
    assert content.count(size) == 2
    lied = bytes(content).replace(size, (100).to_bytes(4, "little"))
    with pytest.raises(Invalid, match=r"stops\.txt"):
        list(records(opened(lied), "stops.txt"))


def test_too_many_files_are_refused():
    with pytest.raises(Invalid, match="too many files"):
        opened(zipped({f"{n}.txt": "" for n in range(101)}))


def test_a_file_that_is_there_twice_is_refused():
    packed = BytesIO()
    with ZipFile(packed, "w") as feed:
        feed.writestr("stops.txt", "a")
        with pytest.warns(UserWarning, match="Duplicate"):
            feed.writestr("stops.txt", "b")
    with pytest.raises(Invalid, match="one twice"):
        opened(packed.getvalue())


def test_a_zip_packed_in_another_way_is_refused():
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_BZIP2) as feed:
        feed.writestr("stops.txt", "a")
    with pytest.raises(Invalid, match="another way"):
        opened(packed.getvalue())


def test_too_many_bytes_are_refused(monkeypatch):
    monkeypatch.setattr(gtfs_zip, "MOST_BYTES", 100)
    with pytest.raises(TooLarge):
        opened(zipped())


@pytest.mark.parametrize("content", [b"", b"PK", b"hello", zipped()[:-30], zipped()[40:]])
def test_what_is_no_zip_is_refused(content):
    with pytest.raises(Invalid):
        [list(records(opened(content), name)) for name in ("agency.txt", "frequencies.txt")]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"stop_id\nb\xfcs\n", "not UTF-8"),
        (b"stop_id\nb\x00s\n", "no text"),
        (b'stop_id\n"bus\n', "cannot be read"),
        (b'stop_id\n"bus"x\n', "cannot be read"),
        (b"stop_id\n" + b"x" * 100_000, "no text"),
    ],
)
def test_a_line_that_is_no_text_is_named(content, words):
    with pytest.raises(Invalid, match=words):
        list(records(opened(zipped({"stops.txt": content})), "stops.txt"))


def test_lines_are_counted_as_an_editor_counts_them():
    found = records(opened(zipped({"stops.txt": 'a,b\r\n\r\n1,"2"\r\n"3\n4",5\n6,7'})), "stops.txt")
    assert list(found) == [(1, ["a", "b"]), (3, ["1", "2"]), (4, ["3\n4", "5"]), (6, ["6", "7"])]


def test_faults_are_counted_beyond_those_that_are_shown():
    faults = Faults()
    for number in range(150):
        faults.add(f"line {number}", None, "is empty", "a value")
    assert (faults.count, len(faults.shown), faults.shown[-1].field) == (150, 100, "line 99")
