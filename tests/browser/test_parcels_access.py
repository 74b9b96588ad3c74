"""Lots, shared cartons and money on cheap phones, in large text, for readers aloud, and on paper."""

import pytest

from tests.browser.holders import people_of, take_on
from tests.browser.looks import holds_in_each_look, open_all
from tests.browser.parcels import enrolled, go
from tests.browser.screens import too_wide
from tests.browser.shared_cartons import lot_on_offer
from tests.browser.test_printing import page_width_mm

PAPERS = ("waybill", "packing_list", "labels")
PRINTED = [(paper, *on) for paper in PAPERS for on in (("print.a4", 210), ("print.roll", 58))]
SMALL = """() => [...document.querySelectorAll('a[href], button, summary, select, input')]
  .filter((one) => one.checkVisibility() && !one.matches('.skip'))
  .map((one) => [one.textContent || one.name, one.getBoundingClientRect().height])
  .filter(([, height]) => height < 47.5)"""


def addresses(page, person):
    """Every screen, with rows of the demonstration in each state."""
    asked, waits = enrolled(page, person), lot_on_offer(page, person)
    parcels = {one["state"]: one["id"] for one in asked("/api/v1/parcels/?page_size=100")["results"]}
    back = asked("/api/v1/lots/?state=called_off&page_size=1")["results"][0]["id"]
    claim = asked("/api/v1/claims/")["results"][0]
    member = asked("/api/v1/statements/")["results"][0]["member"]["id"]
    steps = {"close&carton=1": "open", "depart": "closed", "call_off": "closed"}
    steps |= {"hand_over": "departed", "settle": "handed_over"}
    yield from (f"/lots/{back}", f"/lots/new?again={back}&mass=12.5")
    yield from ("/lots", "/lots/new", f"/lots/{waits}", f"/ways?lot={waits}", "/parcels")
    yield from ("/parcels/new", "/plan", "/statement", "/statements", f"/statements/{member}")
    yield "/outbox"
    yield from (f"/payments/new?member={member}", "/claims", f"/claims/{claim['id']}")
    yield f"/claims/new?parcel={parcels['handed_over']}"
    yield from (f"/parcels/{identity}" for identity in parcels.values())
    yield from (f"/parcels/{parcels[state]}/split" for state in ("settled", "called_off"))
    yield f"/parcels/{parcels['closed']}/papers"
    for does, state in steps.items():
        yield f"/parcels/{parcels[state]}/step?do={does}"


@pytest.fixture
def packing(phone):
    """A phone of whoever packs, and all its addresses."""

    def held(**how):
        page = phone(**how)
        page.goto("/who")
        person = people_of(page, "packer")[0]
        take_on(page, person)
        return page, list(addresses(page, person))

    return held


def open_wide(page, address):
    """With every fold open and all help, where most of it shows."""
    go(page, address)
    open_all(page)


def test_each_screen_can_be_read_in_light_in_dark_and_in_large_text(packing):
    page, screens = packing()
    for screen in screens:
        open_wide(page, screen)
        holds_in_each_look(page, screen)


@pytest.mark.parametrize("locale", ["fr-FR", "mg-MG", "sw-TZ"])
def test_no_screen_is_wider_than_the_smallest_phone_and_all_can_be_touched(packing, locale):
    page, screens = packing(width=320, locale=locale)
    for screen in screens:
        open_wide(page, screen)
        assert (screen, too_wide(page), page.evaluate(SMALL)) == (screen, 0, [])


def test_each_paper_prints_on_a4_and_on_a_roll(packing, words):
    page, screens = packing()
    said = words["en"]
    go(page, next(one for one in screens if one.endswith("/papers")))
    page.evaluate("() => { window.printed = 0; window.print = () => { window.printed += 1; }; }")
    for count, (paper, key, width_mm) in enumerate(PRINTED, start=1):
        page.get_by_role("button", name=said[f"papers.{paper}"]).click()
        page.get_by_role("button", name=said[key]).click()
        assert page.evaluate("window.printed") == count
        assert page_width_mm(page.pdf(prefer_css_page_size=True)) == pytest.approx(width_mm, abs=1)
        page.emulate_media(media="print")
        assert page.locator(".printed").is_visible()
        assert [one for one in page.locator(".band, .ways, .on-screen").all() if one.is_visible()] == []
        page.emulate_media(media="null")
