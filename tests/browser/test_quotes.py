"""A buyer asks what a kilogram costs delivered: the quote, its link, the answer; quotes without a signal."""

import re

import pytest

from tests.browser.holders import people_of, unlock
from tests.browser.office import KEPT_LATE, KEPT_OFFICE, about, can_be_read, departures_of, quoted
from tests.browser.parcels import enrolled, fill, go, minor, offer, writing
from tests.browser.screens import WORDS_KEPT, open_departures, wait_until, wait_until_kept, words_kept
from tests.browser.test_parcels import YESTERDAY, fish

LINK = re.compile(r"https?://\S+/q/\S+/")


@pytest.fixture
def said(words):
    return words["en"] | words["office_en"]


def make_quote(page, departure, soon, said, **fields):
    """Looks first, then makes it; answers with the link as it stands on the screen."""
    go(page, f"/quotes/new?departure={departure['id']}&{about(soon)}")
    fill(page, {"frozen_since": YESTERDAY, "profit_share": "25"} | fields)
    page.get_by_role("button", name=said["quote.look"]).click()
    page.locator("#prices").wait_for()
    assert page.locator("tbody tr").count() > 0
    can_be_read(page)
    page.get_by_role("button", name=said["quote.issue"]).click()
    text = page.locator(".link-text").inner_text()
    assert len(text.splitlines()) <= 4
    can_be_read(page)
    return LINK.search(text)[0]


def first_of(page, soon):
    """The first departure of that vehicle."""
    return next(iter(departures_of(enrolled(page, people_of(page, "packer")[0]), soon).values()))


def test_a_buyer_without_an_account_opens_the_link_on_her_own_phone_and_accepts(held_by, phone, soon, said):
    packer = held_by(role="packer")
    departure = first_of(packer, soon)
    link = make_quote(packer, departure, soon, said)
    address = packer.url

    buyer = phone()
    buyer.goto(link)
    assert "Guest house in Mpika" in buyer.locator("main, body").first.inner_text()
    buyer.locator("form[method=get] button").click()
    buyer.locator("form[action$='accept/'] [name=name]").fill("Mrs Phiri")
    buyer.locator("form[action$='accept/'] button").click()
    buyer.wait_for_load_state()
    assert "/accept" not in buyer.url
    told = buyer.locator("body").inner_text()

    go(packer, "/quotes")
    go(packer, address)
    packer.locator(".mine-box").filter(has_text="Mrs Phiri").wait_for()
    answer = packer.locator(".mine-box").filter(has_text="Mrs Phiri").inner_text()
    assert minor(answer) == minor(re.search(r"Accepted.*", told)[0])
    packer.get_by_role("link", name=said["quote.lot"]).click()
    packer.get_by_text(said["lot.state.offered"]).wait_for()


def test_a_link_is_shown_once_and_one_that_was_taken_back_says_so(held_by, phone, soon, said):
    packer = held_by(role="packer")
    departure = first_of(packer, soon)
    first = make_quote(packer, departure, soon, said)
    packer.get_by_role("button", name=said["link.new"]).click()
    wait_until(packer, "(first) => !document.querySelector('.link-text').textContent.includes(first)", first)
    second = LINK.search(packer.locator(".link-text").inner_text())[0]
    buyer = phone()
    assert [buyer.goto(one).status for one in (first, second)] == [404, 200]
    packer.get_by_role("button", name=said["quote.revoke"]).click()
    packer.locator("p.big", has_text=said["quote.state.revoked"]).wait_for()
    assert buyer.goto(second).status == 410
    assert "taken this quote back" in buyer.locator("body").inner_text()
    address = packer.url
    packer.reload()
    unlock(packer, people_of(packer, "packer")[0])
    go(packer, address)
    assert packer.locator(".link-text").count() == 0


def test_the_share_sheet_of_the_phone_gets_the_text_with_the_link(held_by, soon, said):
    page = held_by(role="packer")
    page.evaluate("() => { navigator.share = async ({ text }) => (window.shared = text); }")
    link = make_quote(page, first_of(page, soon), soon, said)
    page.get_by_role("button", name=said["link.send"]).click()
    assert link in page.evaluate("window.shared")


def test_a_member_quotes_her_own_fish_from_her_lot_and_what_is_accepted_is_promised_of_it(
    held_by, phone, soon, said
):
    page = held_by(role="member")
    lot = offer(page, **fish(soon, "31.5"))
    go(page, f"/lots/{lot}")
    page.get_by_role("link", name=said["quote.make"]).click()
    page.locator("form").wait_for()
    assert "31.5 kg" in page.locator("p.big").first.inner_text().replace("\u00a0", " ")
    assert page.locator("[name=mass_kg], [name=member], [name=becomes]").count() == 0
    fill(page, {"profit_share": "25"})
    page.get_by_role("button", name=said["quote.look"]).click()
    page.locator("#prices").wait_for()
    page.get_by_role("button", name=said["quote.issue"]).click()
    link = LINK.search(page.locator(".link-text").inner_text())[0]
    buyer = phone()
    buyer.goto(f"{link}?kg=20")
    buyer.locator("form[action$='accept/'] [name=name]").fill("Mrs Phiri")
    buyer.locator("form[action$='accept/'] button").click()
    buyer.wait_for_load_state()
    go(page, f"/lots/{lot}")
    facts = page.locator("dl").inner_text().replace("\u00a0", " ")
    assert re.search(rf"{said['lot.promised']}\s+20 kg", facts)
    assert re.search(rf"{said['lot.left.name']}\s+11.5 kg", facts)


def test_what_cannot_arrive_hard_is_not_quoted_and_says_why(held_by, soon, said):
    page = held_by(role="packer")
    departure = first_of(page, soon)
    go(page, f"/quotes/new?departure={departure['id']}&{about(soon)}")
    fill(page, {"frozen_since": YESTERDAY, "profit_share": "25", "mass_kg": "1", "start_temperature_c": "-3"})
    page.get_by_role("button", name=said["quote.look"]).click()
    page.locator("[role=alert]").wait_for()
    assert "quoted" in page.locator("[role=alert]").inner_text()
    assert page.locator("[name=mass_kg]").input_value() == "1"


def test_screens_come_ahead_for_those_who_need_them_and_not_for_a_visitor(held_by, phone):
    member = held_by(role="member")
    wait_until_kept(member)
    wait_until(member, KEPT_LATE)
    wait_until(member, f"({WORDS_KEPT})().then((names) => names.join() === 'en,office_en')")
    packer = held_by(role="packer")
    wait_until_kept(packer)
    wait_until(packer, KEPT_LATE)
    wait_until(packer, KEPT_OFFICE)
    visitor = open_departures(phone())
    wait_until_kept(visitor)
    visitor.wait_for_timeout(5000)
    assert member.evaluate(KEPT_OFFICE) is False
    assert words_kept(visitor) == ["en"]
    assert visitor.evaluate(KEPT_LATE) is False


def test_a_member_opens_her_quotes_without_a_signal_once_she_has_seen_them(held_by, soon, said):
    page = held_by(role="member")
    person = people_of(page, "member")[0]
    departure = first_of(page, soon)
    made = quoted(writing(page, person), departure, soon)
    wait_until_kept(page)
    for address in ("/quotes", f"/quotes/{made['quote']['id']}"):
        go(page, address)
        page.wait_for_load_state("networkidle")
    page.context.set_offline(True)
    page.reload()
    unlock(page, person)
    page.locator("#prices").wait_for()
    page.get_by_text(said["old.silent"]).wait_for()
    go(page, "/quotes")
    page.locator(".entry-line").first.wait_for()
