"""What a person does on the screens, by what she sees there."""

import re
import time

SLOT = ".slot"
FETCHING_S = 60
KEPT_IN_FULL = """async () => {
  const store = await new Promise((found) => {
    const asked = indexedDB.open('carton-hour');
    asked.onsuccess = () => found(asked.result);
  });
  const asked = store.transaction('answers').objectStore('answers').getAllKeys();
  const keys = await new Promise((found) => (asked.onsuccess = () => found(asked.result)));
  store.close();
  const inFull = keys.filter((key) => /departures\\/[^/?]+\\/\\?/.test(key));
  return inFull.map((key) => decodeURIComponent(key.split('/')[4]));
}"""

WORDS_KEPT = """async () => {
  const files = await (await caches.open('words')).keys();
  return files.map(({ url }) => new URL(url).pathname.match(/\\/([a-z_]+)-[^/]*$/)[1]).sort();
}"""

MOVED_BY = "document.querySelector('.page').scrollTop"
# The whole page, or the part of a screen that moves above the ways.
TOO_WIDE = """() => {
  const moving = [document.documentElement, ...document.querySelectorAll('.page')];
  return Math.max(...moving.map((one) => one.scrollWidth - one.clientWidth));
}"""


def open_departures(page):
    page.goto("/")
    page.wait_for_selector(SLOT)
    return page


def ask(page, **fields):
    """Changes the question and asks it; leaves the sheet as the screens leave it."""
    page.locator(".question").click()
    for name, text in fields.items():
        page.locator(f"[name={name}]").fill(text)
    page.locator(".sheet button[type=submit], .sheet .button.first").click()


def show_cheapest_safe_first(page, words):
    page.get_by_role("button", name=words["filter.safe"]).click()
    page.get_by_role("button", name=words["filter.cheapest"]).click()
    page.locator(f"{SLOT} .tag").wait_for()


def open_slot(page, link):
    link.click()
    page.wait_for_selector(".giveup")
    page.wait_for_selector(".plot svg")


def wait_until(page, expression, given=None):
    """Until this is true in the page. The driver's own way is `eval`, which the policy of ours refuses."""
    end = time.monotonic() + FETCHING_S
    while not page.evaluate(expression, given):
        assert time.monotonic() < end, f"never came true: {expression}"
        page.wait_for_timeout(50)


def wait_until_kept(page):
    """Until the worker holds all pages, so that they can be opened without a signal."""
    # Asked again and again: `serviceWorker.ready` waits for ever where the worker could not come.
    wait_until(page, "navigator.serviceWorker.controller !== null")


def words_kept(page):
    """The catalogues that the phone keeps: "en", "office_en"."""
    return page.evaluate(WORDS_KEPT)


def too_wide(page):
    """Pixels by which the page can be pushed sideways."""
    return page.evaluate(TOO_WIDE)


def moved_by(page):
    """Pixels by which the page was moved up."""
    return page.evaluate(MOVED_BY)


def identity(link):
    """What the address of a journey calls its departure."""
    return re.search(r"/journey/([^?]+)", link.get_attribute("href"))[1]


def kept_in_full(page, count):
    """Departures that the phone fetched in full by itself, once there are so many."""
    end = time.monotonic() + FETCHING_S
    while len(found := page.evaluate(KEPT_IN_FULL)) < count:
        assert time.monotonic() < end, f"only {found} came by themselves"
        page.wait_for_timeout(100)
    return found
