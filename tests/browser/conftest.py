"""Phones in real Chromium before the real server."""

import json
import os
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import sync_playwright

from tests.browser.chromium import QUIET, find_chromium
from tests.browser.demo_server import ROOT, demo_server
from tests.browser.holders import people_of, take_on
from tests.browser.landing import DEARER_MINOR, departure_soon
from tests.browser.relay import Relay

# What they find is told whole when a check fails in them.
pytest.register_assert_rewrite("tests.browser.looks", "tests.browser.sight")

LANGUAGES = ("en", "fr", "mg", "sw")
CATALOGUES = ROOT / "frontend" / "src" / "catalogues"
# The first question of a new server compiles and fills its tables of holding times.
FIRST_ANSWER_MS = 90_000


RUNNING = os.environ.get("CARTON_HOUR_ADDRESS")


@pytest.fixture(scope="session")
def data(tmp_path_factory):
    """Where the demo keeps its data; of one that runs already CARTON_HOUR_DATA names it."""
    return Path(os.environ["CARTON_HOUR_DATA"]) if RUNNING else tmp_path_factory.mktemp("demo")


@pytest.fixture(scope="session")
def address(request):
    """Where the demo answers; CARTON_HOUR_ADDRESS names one that runs already."""
    if RUNNING:
        yield RUNNING
        return
    find_chromium()
    with demo_server(request.getfixturevalue("data")) as started:
        yield started


@pytest.fixture(scope="session")
def words():
    """The words of each language as the screens have them."""
    return {
        path.stem: json.loads(path.read_text(encoding="utf-8"))["messages"]
        for path in CATALOGUES.glob("*.json")
    }


# Not for the whole session: while it runs, its event loop would keep Django's own tests from their database.
@pytest.fixture(scope="module")
def chromium():
    program = find_chromium()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(QUIET))
        yield browser
        browser.close()


@pytest.fixture
def phone(chromium, address):
    """Makes phones that have never seen anything; whatever a page cannot do fails the test."""
    contexts, complaints = [], []

    def new_phone(*, width=360, locale="en-GB", colours="light", at=address):
        context = chromium.new_context(
            base_url=at,
            viewport={"width": width, "height": 740},
            locale=locale,
            color_scheme=colours,
            has_touch=True,
        )
        context.set_default_timeout(FIRST_ANSWER_MS)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: complaints.append(str(error)))
        return page

    yield new_phone
    for context in contexts:
        context.close()
    assert complaints == []


@pytest.fixture
def held_by(phone):
    """A phone in the hands of one of the invented people."""

    def held(person=None, *, role=None, **how):
        page = phone(**how)
        page.goto("/who")
        take_on(page, person or people_of(page, role)[0])
        return page

    return held


@pytest.fixture
def wire(address):
    """A counted wire to the server."""
    relay = Relay(urlsplit(address).port)
    relay.start()
    yield relay
    relay.close()


@pytest.fixture
def reopened(chromium, address, tmp_path):
    """Opens the browser on one profile, again and again; the last one is closed in the end."""
    profile, opened = tmp_path / "profile", []

    def reopen():
        how = {"executable_path": find_chromium(), "args": list(QUIET), "base_url": address}
        screen = {"viewport": {"width": 360, "height": 740}, "locale": "en-GB", "has_touch": True}
        context = chromium.browser_type.launch_persistent_context(str(profile), **how, **screen)
        opened.append(context)
        return context.pages[0]

    reopen.profile = profile
    yield reopen
    opened[-1].close()


@pytest.fixture(scope="module")
def soon(address, data):
    """Leaves soon, and on the days after: what is closed now stays hard. No plan takes it: it is dear."""
    return departure_soon(data, DEARER_MINOR)
