"""Every path that a screen asks is kept, or it is said why not."""

import re

import pytest

from api.cooperative import MANAGER, MEMBER, PACKER
from api.kept_paths import DEPARTURES, NOT_KEPT, PATHS
from tests.house.tree import ROOT

SOURCES = ROOT / "frontend" / "src"
PATH = re.compile(r"""[`'"]/api/v1/([^`'"]*)[`'"]""")
INSIDE = re.compile(r"\$\{[^}]*\}")
ASKED = re.compile(r"\{[^}]*\}")
WRITES = {
    "calendar-links/", "calendar-links/*/revoke/", "claims/", "claims/*/*/", "cooperatives/*/",
    "demonstration/", "enrolment-codes/", "enrolments/", "entries/*/correct/", "lots/", "lots/*/withdraw/",
    "me/password/", "members/", "members/*/", "parcels/", "parcels/*/*/", "parcels/*/cartons/",
    "parcels/*/cartons/*/drop/", "parcels/*/join/", "parcels/*/leave/", "payments/", "phones/*/revoke/",
    "plans/", "plans/*/accept/", "quotes/", "quotes/*/renew-link/", "quotes/*/revoke/", "quotes/preview/",
    "sign-in/", "sign-out/", "what-if/",
}  # fmt: skip
"""What screens send; `*` stands for what is filled in."""
FILES = {"exports/*/", "exports/*/?", "exports/archive/", "exports/gtfs/", "imports/*/?"}
BY_SUBJECT = {"*/", "*/?", "*/*/*", "*/*/*?"}
"""What the screens of the fares fill in the subject of: below, subject by subject."""


def plain(path):
    """A path with `*` for what is filled in; of its parameters only that there are some."""
    address, mark, _ = ASKED.sub("*", INSIDE.sub("*", path)).partition("?")
    return address + mark


def named_by_screens(sources=SOURCES):
    """(path, file) of every path of the interface that stands in the screens."""
    found = set()
    for file in sorted(sources.rglob("*.js*")):
        text = re.sub(r"/\*.*?\*/", "", file.read_text(encoding="utf-8"), flags=re.S)
        found |= {(plain(path), file.relative_to(sources).as_posix()) for path in PATH.findall(text)}
    return found


def kept(role):
    listed = PATHS[role]
    return {plain(path) for one in listed for path in (one.path, *one.ones)} | set(map(plain, DEPARTURES))


ELSEWHERE = {plain(path) for path in NOT_KEPT} | WRITES | FILES | BY_SUBJECT | {"kept/"}


def undecided(sources=SOURCES):
    return {(path, file) for path, file in named_by_screens(sources) if path not in kept(MANAGER) | ELSEWHERE}


def test_every_path_of_the_screens_is_kept_or_it_is_said_why_not():
    assert undecided() == set()


def test_a_path_that_nobody_decided_about_is_found(tmp_path):
    screen = tmp_path / "screens"
    screen.mkdir()
    (screen / "ice.jsx").write_text("const ICE = `/api/v1/ice/${id}/?page_size=100`;", encoding="utf-8")
    assert undecided(tmp_path) == {("ice/*/?", "screens/ice.jsx")}


def test_every_subject_of_the_fares_is_kept():
    text = (SOURCES / "fares.js").read_text(encoding="utf-8")
    subjects = re.findall(r"^  '?([a-z-]+)'?: \{$", text.partition("SUBJECTS = {")[2], flags=re.M)
    assert len(subjects) == 8
    assert {f"{subject}/?" for subject in subjects} <= kept(MANAGER)


def test_what_is_written_is_never_asked():
    assert not kept(MANAGER) & (WRITES | FILES)


@pytest.mark.parametrize(("role", "more"), [(PACKER, MEMBER), (MANAGER, PACKER)])
def test_who_may_more_keeps_more(role, more):
    assert kept(more) < kept(role)


def test_no_path_is_both_kept_and_not():
    assert not kept(MANAGER) & {plain(path) for path in NOT_KEPT}
