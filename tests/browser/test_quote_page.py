"""A buyer in another browser, without an account, opens a link, accepts, or hears that it was revoked."""

from datetime import UTC, datetime, timedelta

import pytest

from tests.browser.conftest import LANGUAGES
from tests.browser.holders import code_for, people_of
from tests.browser.looks import holds_in_each_look, open_all
from tests.browser.screens import too_wide
from tests.browser.test_headers import Watched
from tests.browser.test_printing import page_width_mm

JSON = "application/json"
SMALL = """() => [...document.querySelectorAll('button, input, textarea, summary')]
  .filter((one) => one.type !== 'hidden' && one.getBoundingClientRect().height > 0)
  .filter((one) => one.getBoundingClientRect().height < 48).map((one) => one.outerHTML)"""


class Seller:
    """The packer of the demonstration, as her phone talks to the server."""

    def __init__(self, page):
        self.page, self.token = page, None
        [packer, *_] = people_of(page, "packer")
        sent = self.post("enrolments/", {"code": code_for(page, packer), "phone_name": "seller's"})
        self.token = sent["token"]

    def headers(self):
        return {"Authorization": f"Token {self.token}"} if self.token else {}

    def post(self, path, body=None):
        answer = self.page.request.post(
            f"/api/v1/{path}", data=body or {}, headers={"Content-Type": JSON, **self.headers()}
        )
        assert answer.ok, answer.text()
        return answer.json()

    def departure(self):
        """A safe one of the coming days, for 40 kg, of a vehicle with more than one place."""
        asked = {"route": "mpulungu-kasama", "species": "IRQ", "mass_kg": 40, "start_temperature_c": -20}
        found = self.page.request.get(
            "/api/v1/departures/", params={**asked, "safe": "true", "page_size": 100}
        )
        soon = datetime.now(UTC) + timedelta(hours=12)
        return next(
            row
            for row in found.json()["results"]
            if row["carrier"]["vehicle"] == "minibus" and datetime.fromisoformat(row["closes_at"]) > soon
        )

    def quote(self, **changes):
        now = datetime.now(UTC)
        fish = {
            "species": "IRQ",
            "mass_kg": 60,
            "frozen_since": (now - timedelta(days=2)).isoformat(),
            "ready_at": (now - timedelta(days=1)).isoformat(),
            "start_temperature_c": -20,
        }
        body = {
            "departure": self.departure()["id"],
            "buyer": "kasama-shop",
            "becomes": "lot",
            "fish": fish,
            "profit_kind": "margin",
            "profit_share": 0.2,
            "language": "en",
        }
        return self.post("quotes/", body | changes)


@pytest.fixture
def seller(phone):
    return Seller(phone())


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_buyer_reads_it_at_320_pixels_accepts_and_sees_what_he_accepted(phone, seller, language):
    address = seller.quote(language=language)["address"]
    watched = Watched(phone(width=320))
    page = watched.page
    page.goto(address)
    assert page.locator("html").get_attribute("lang") == language
    assert page.locator("h1").count() == 1
    assert (too_wide(page), watched.told(), page.evaluate(SMALL)) == (0, [], [])
    page.locator("#kg").fill("40")
    page.locator("form[method=get] button").click()
    page.locator("#name").fill("Mr Banda")
    assert (too_wide(page), watched.told(), page.evaluate(SMALL)) == (0, [], [])
    page.locator("button.first").click()
    page.wait_for_url(address)
    assert "40" in page.locator(".said").inner_text()
    assert page.locator("#kg").count() == 0
    assert (too_wide(page), watched.told()) == (0, [])


def test_each_state_can_be_read_in_light_in_dark_and_in_large_text(phone, seller):
    sent = [seller.quote() for _ in range(3)]
    seller.post(f"quotes/{sent[1]['quote']['id']}/revoke/")
    page = phone()
    page.goto(f"{sent[0]['address']}?kg=40")
    page.locator("#name").fill("Mr Banda")
    page.locator("button.first").click()
    page.wait_for_url(sent[0]["address"])
    holds_in_each_look(page, "accepted")
    states = {"revoked": sent[1]["address"], "no such kilograms": f"{sent[2]['address']}?kg=900"}
    for state, address in (states | {"unknown": f"{sent[2]['address'][:-5]}/"}).items():
        page.goto(address)
        holds_in_each_look(page, state)


def test_it_can_be_read_with_all_folds_open_and_a4_has_no_forms(phone, seller):
    page = phone()
    page.goto(f"{seller.quote()['address']}?kg=40")
    open_all(page)
    holds_in_each_look(page, "to be accepted")
    assert page_width_mm(page.pdf(prefer_css_page_size=True)) == pytest.approx(210, abs=1)
    page.emulate_media(media="print")
    assert not page.locator("button").first.is_visible()
    assert page.locator("table").is_visible()


def test_a_revoked_link_says_so_also_on_a_phone_that_has_the_screens(phone, seller):
    sent = seller.quote()
    page = phone()
    page.goto("/")
    page.wait_for_selector(".slot")
    page.goto(sent["address"])
    assert page.locator("table").is_visible()
    seller.post(f"quotes/{sent['quote']['id']}/revoke/")
    answer = page.reload()
    assert answer.status == 410
    assert "taken this quote back" in page.locator(".said").inner_text()
