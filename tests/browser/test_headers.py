"""The policy of `coop/settings.py` in a real browser: nothing of ours needs what it forbids."""

import os
import re
import subprocess
import sys
from urllib.parse import urlsplit

import pytest

from tests.browser.demo_server import ROOT
from tests.browser.holders import people_of, take_on
from tests.browser.landing import DEARER_MINOR, departure_soon
from tests.browser.office import office_addresses
from tests.browser.parcels import go
from tests.browser.screens import SLOT, open_departures, open_slot, wait_until_kept
from tests.browser.test_access import walk
from tests.browser.test_parcels_access import addresses, open_wide

SCREENS = re.compile(r"^  \[/(\^.*\$)/, ", re.MULTILINE)
PEOPLES = ("/who", "/enrol", "/shared", "/members", "/phones", "/nowhere")
NAME, PASSWORD = "looks-at-tables", "eleven hard fish"
ENTERS = f"""
from django.contrib.auth import get_user_model
people = get_user_model().objects
people.filter(username={NAME!r}).delete()
people.create_superuser({NAME!r}, password={PASSWORD!r})
"""
# Told to the page itself, so that one that is not written to the console is seen, too.
WATCH = """
window.refused = [];
addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI, sourceFile, lineNumber }) =>
  window.refused.push(`${violatedDirective} ${blockedURI} ${sourceFile}:${lineNumber}`));
"""
DRAWN_TWICE = "new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))"
WRITTEN_IN = """() => {
  const styled = document.createElement('p');
  styled.setAttribute('style', 'color: red');
  const script = document.createElement('script');
  script.textContent = 'window.ran = true';
  document.body.append(styled, script);
  const foreign = new Image();
  foreign.src = 'http://elsewhere.invalid/fish.png';
  document.body.append(foreign);
  return window.ran === undefined;
}"""


class Watched:
    """A page, and whatever its browser complained of on each screen."""

    def __init__(self, page):
        self.page, self.complaints, self.seen = page, [], []
        page.on("console", self.hear)
        page.add_init_script(WATCH)

    def hear(self, message):
        if message.type == "error":
            self.complaints.append(f"{message.text} {message.location}")

    def told(self):
        """Complaints so far, of the console and of the policy; the next screen begins without."""
        self.page.evaluate(DRAWN_TWICE)
        found = [*self.complaints, *self.page.evaluate("window.refused.splice(0)")]
        self.complaints.clear()
        self.seen.append(urlsplit(self.page.url).path)
        return found


@pytest.fixture
def watched(phone):
    return Watched(phone())


def screens():
    """What the screens' own table says of addresses, as Python reads it."""
    table = (ROOT / "frontend/src/app.jsx").read_text(encoding="utf-8")
    return [re.compile(one.replace(r"\/", "/").replace("(?<", "(?P<")) for one in SCREENS.findall(table)]


def ask_for_a_plan(page):
    go(page, "/plan")
    page.locator("form .button.first").click()
    page.wait_for_url("**/plans/*")
    page.locator("h1").first.wait_for()


def test_no_screen_asks_for_what_the_policy_forbids(watched, words, data):
    page = watched.page
    for screen in walk(page, words["en"]):
        assert (screen, watched.told()) == (screen, [])
    page.goto("/who")
    manager = people_of(page, "manager")[0]
    take_on(page, manager)
    soon = departure_soon(data, DEARER_MINOR)
    office = office_addresses(page, manager, soon)
    for screen in (*PEOPLES, *addresses(page, manager), *office):
        open_wide(page, screen)
        assert (screen, watched.told()) == (screen, [])
    ask_for_a_plan(page)
    assert watched.told() == []
    table = screens()
    assert len(table) > 20
    assert [one.pattern for one in table if not any(map(one.search, watched.seen))] == []


def test_the_worker_keeps_all_pages_and_serves_them_under_the_policy(watched, words):
    page = open_departures(watched.page)
    open_slot(page, page.locator(f"{SLOT} .slot-link").first)
    wait_until_kept(page)
    assert watched.told() == []
    page.context.set_offline(True)
    page.get_by_role("link", name=words["en"]["packing.open"]).click()
    page.reload()
    page.wait_for_selector(".section svg")
    assert page.evaluate("fetch('/icon.svg').then((answer) => answer.headers.get('Content-Security-Policy'))")
    assert page.evaluate("window.refused") == []


@pytest.fixture
def tables(watched, data):
    """The page of the tables, entered as somebody who may everything there."""
    environment = os.environ | {"CARTON_HOUR_DATA": str(data)}
    command = [sys.executable, "manage.py", "shell", "-c", ENTERS]
    subprocess.run(command, cwd=ROOT, env=environment, check=True, capture_output=True)
    page = watched.page
    page.goto("/admin/")
    page.locator("[name=username]").fill(NAME)
    page.locator("[name=password]").fill(PASSWORD)
    page.locator("[type=submit]").click()
    page.locator("#content-main").wait_for()
    return page


def links(page, selector):
    return [link.get_attribute("href") for link in page.locator(selector).all()]


def test_no_page_of_the_tables_asks_for_what_the_policy_forbids(tables, watched):
    assert watched.told() == []
    lists = links(tables, "#content-main th a[href]")
    assert len(lists) > 15
    for address in lists:
        tables.goto(address)
        further = links(tables, ".addlink:not([href*=_popup])")[:1] + links(tables, "#result_list th a")[:1]
        assert (address, watched.told()) == (address, [])
        for one in further:
            tables.goto(one)
            below = links(tables, ".historylink, .deletelink")
            assert (one, watched.told()) == (one, [])
            for each in below:
                tables.goto(each)
                assert (each, watched.told()) == (each, [])


def test_what_is_written_into_a_page_does_not_run_and_is_heard(watched):
    page = open_departures(watched.page)
    assert page.evaluate(WRITTEN_IN)
    heard = " ".join(watched.told())
    assert all(part in heard for part in ("style-src-attr", "script-src-elem", "img-src"))
