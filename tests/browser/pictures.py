"""A picture of every screen in every language: `python -m tests.browser.pictures`, looked at by a person.

It starts a demonstration of its own and writes into `.screenshots/`, a folder for each language and width.
"""

import argparse
import re
import shutil
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser.chromium import QUIET, find_chromium
from tests.browser.demo_server import ROOT, demo_server
from tests.browser.holders import people_of, take_on
from tests.browser.landing import DEARER_MINOR, departure_soon
from tests.browser.office import departures_of, office_addresses, quoted
from tests.browser.parcels import enrolled, writing
from tests.browser.screens import SLOT, too_wide
from tests.browser.sight import WIDTHS
from tests.browser.test_parcels_access import addresses, open_wide

FOLDER = ROOT / ".screenshots"
LANGUAGES = sorted(path.stem for path in (ROOT / "frontend/src/catalogues").glob("??.json"))
PATIENCE_MS = 90_000
SETTLED_MS = 300
# Pixels that a screen needs to show all that moves above the ways.
WHOLE = """() => {
  const page = document.querySelector('.page');
  return page ? innerHeight + page.scrollHeight - page.clientHeight : innerHeight;
}"""
FIRST = ("/", "/kept", "/who", "/enrol", "/shared?text=Two+buckets+for+Mrs+Phiri", "/nowhere")
PEOPLES = ("/members", "/phones", "/outbox")


class Album:
    """Numbers the pictures of one phone in the order in which they are taken; tells what is too wide."""

    def __init__(self, folder):
        self.folder, self.number = folder, 0
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)

    def take(self, page, name):
        self.number += 1
        page.wait_for_load_state("networkidle")
        page.wait_for_timeout(SETTLED_MS)
        plain = re.sub(r"[^a-z]+", "_", name.lower()).strip("_")[:40] or "first"
        phone = page.viewport_size
        page.set_viewport_size(phone | {"height": max(phone["height"], page.evaluate(WHOLE))})
        page.screenshot(path=self.folder / f"{self.number:03d}_{plain}.png", full_page=True)
        page.set_viewport_size(phone)
        if (over := too_wide(page)) > 0:
            print(f"  {self.folder.name} {name}: {over} px too wide")


def visitor(page, album):
    """What anybody sees, the journey and the packing sheet of the first departure with it."""
    for screen in FIRST:
        page.goto(screen)
        page.wait_for_selector(SLOT if screen == "/" else "h1")
        album.take(page, screen)
    page.goto("/")
    page.locator(f"{SLOT} .slot-link").first.click()
    page.wait_for_selector(".plot svg")
    album.take(page, "journey")
    page.locator("a[href^='/packing/']").click()
    page.wait_for_selector(".section svg")
    album.take(page, "packing")


def of_people(page, album, soon):
    """All screens of whoever packs, then those of a manager."""
    for role, screens in (
        ("packer", lambda person: addresses(page, person)),
        ("manager", lambda person: [*PEOPLES, *office_addresses(page, person, soon)]),
    ):
        page.goto("/who")
        person = people_of(page, role)[0]
        take_on(page, person)
        for screen in screens(person):
            open_wide(page, screen)
            album.take(page, f"{role} {screen}")


def buyer(page, album, soon, language):
    """The page behind the link of a quote, before and after it was asked what some kilograms cost."""
    person = people_of(page, "manager")[0]
    departure = next(iter(departures_of(enrolled(page, person), soon).values()))
    sent = quoted(writing(page, person), departure, soon, language=language)
    page.goto(sent["address"])
    album.take(page, "buyer")
    page.locator("form[method=get] button").click()
    album.take(page, "buyer asked")


def photograph(browser, address, soon, language, width, folder):
    context = browser.new_context(
        base_url=address,
        viewport={"width": width, "height": 740},
        device_scale_factor=1.5,
        is_mobile=True,
        has_touch=True,
        locale=language,
        timezone_id="Africa/Lusaka",
    )
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    album = Album(folder / language / str(width))
    visitor(page, album)
    of_people(page, album, soon)
    buyer(page, album, soon, language)
    context.close()
    return album.number


def main():
    asks = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asks.add_argument("--languages", default=",".join(LANGUAGES), help="parted by commas")
    asks.add_argument("--widths", default="360", help=f"parted by commas, of {WIDTHS}")
    asked = asks.parse_args()
    with (
        tempfile.TemporaryDirectory() as place,
        demo_server(Path(place)) as address,
        sync_playwright() as play,
    ):
        soon = departure_soon(Path(place), DEARER_MINOR)
        browser = play.chromium.launch(executable_path=find_chromium(), args=list(QUIET))
        for language in asked.languages.split(","):
            for width in map(int, asked.widths.split(",")):
                count = photograph(browser, address, soon, language, width, FOLDER)
                print(f"{language} {width} px: {count} pictures")
        browser.close()


if __name__ == "__main__":
    main()
