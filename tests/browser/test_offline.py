"""Without a signal, which is most of the day."""

from tests.browser.screens import SLOT, ask, kept_in_full, open_departures, open_slot, wait_until_kept


def test_the_packing_sheet_opens_without_a_signal(phone, words):
    page = open_departures(phone())
    open_slot(page, page.locator(f"{SLOT} .slot-link").first)
    wait_until_kept(page)
    page.context.set_offline(True)
    page.get_by_role("link", name=words["en"]["packing.open"]).click()
    page.wait_for_selector(".section svg")
    page.reload()
    page.wait_for_selector(".section svg")
    page.locator(".steps li").nth(6).wait_for()


def test_a_departure_that_was_never_touched_opens_if_it_stood_among_the_first(phone):
    page = open_departures(phone())
    known = kept_in_full(page, 2)
    wait_until_kept(page)
    page.context.set_offline(True)
    page.reload()
    page.wait_for_selector(SLOT)
    page.locator(f".slot-link[href^='/journey/{known[0]}']").click()
    page.wait_for_selector(".plot svg")


def test_a_question_never_asked_says_so_and_offers_those_that_were(phone, words):
    page = open_departures(phone())
    wait_until_kept(page)
    page.context.set_offline(True)
    ask(page, mass_kg="33")
    page.locator("[role=alert]").wait_for()
    assert words["en"]["problem.silent.do"] in page.locator("[role=alert]").inner_text()
    page.locator(".kept-question").first.click()
    page.wait_for_selector(SLOT)
    assert "80 kg" in page.locator(".question").inner_text()


def test_what_is_old_says_how_old_it_is(phone, words):
    page = open_departures(phone())
    wait_until_kept(page)
    page.context.set_offline(True)
    page.clock.install()
    page.clock.fast_forward("03:05:00")
    page.reload()
    page.wait_for_selector(SLOT)
    page.get_by_text(words["en"]["old.silent"]).wait_for()
    assert "3 hours ago" in page.locator("main").inner_text()


def test_the_page_about_what_is_kept_names_it(phone, words):
    page = open_departures(phone())
    page.goto("/kept")
    page.get_by_text(words["en"]["kept.kind.departures"]).wait_for()
    page.get_by_text(words["en"]["kept.shell.yes"]).wait_for()


def test_without_any_signal_at_first_it_says_what_to_do_and_goes_on_when_there_is_one(phone, words):
    page = phone()
    page.route("**/api/**", lambda route: route.abort())
    page.goto("/")
    page.locator("[role=alert]").wait_for()
    assert words["en"]["problem.silent.do"] in page.locator("[role=alert]").inner_text()
    page.unroute("**/api/**")
    page.get_by_role("button", name=words["en"]["again"]).click()
    page.wait_for_selector(SLOT)
