"""Each screen in each look: light, dark, and in text of twice the size; one visit sees all three."""

from axe_playwright_python.sync_playwright import Axe

from tests.browser.screens import too_wide

TWICE = "document.documentElement.style.fontSize = '200%'"
ONCE = "document.documentElement.style.fontSize = ''"
# All that a dark screen can change for those who read it: the page under its colours is the same.
OF_COLOURS = ("color-contrast", "link-in-text-block")
OPEN_ALL = """() => {
  document.querySelectorAll('main details').forEach((one) => (one.open = true));
  document.querySelectorAll('main .help-name[aria-expanded=false]').forEach((one) => one.click());
}"""
DRAWN = "new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))"


def open_all(page):
    """Every fold, and the help beside every number: where most of a screen shows."""
    page.evaluate(OPEN_ALL)
    page.evaluate(DRAWN)


def complaints(page, rules=()):
    """What axe finds, of all its rules or of these."""
    wanted = {"resultTypes": ["violations"]} | ({"runOnly": list(rules)} if rules else {})
    found = Axe().run(page, options=wanted).response["violations"]
    return [(one["id"], one["nodes"][0]["html"]) for one in found]


def holds_in_each_look(page, screen):
    """Nothing to complain of in any of them, and nothing wider than the phone; it ends as it began: light."""
    page.emulate_media(color_scheme="light")
    assert (screen, "light", complaints(page), too_wide(page)) == (screen, "light", [], 0)
    page.emulate_media(color_scheme="dark")
    assert (screen, "dark", complaints(page, OF_COLOURS)) == (screen, "dark", [])
    page.emulate_media(color_scheme="light")
    page.evaluate(TWICE)
    assert (screen, "twice", complaints(page), too_wide(page)) == (screen, "twice", [], 0)
    page.evaluate(ONCE)
