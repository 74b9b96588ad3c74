"""A manager hears of a new fare and changes it once, for everybody, from a day on; files go in and out."""

import re
from datetime import date, timedelta

import pytest

from tests.browser.holders import people_of
from tests.browser.office import about, can_be_read, departures_of, quoted
from tests.browser.parcels import enrolled, fill, go, minor, writing
from tests.browser.screens import wait_until

MUCH = "900"


@pytest.fixture
def said(words):
    return words["en"] | words["office_en"]


def day_after(day):
    return (date.fromisoformat(day) + timedelta(days=1)).isoformat()


def each_kilogram(page, departure, soon, said):
    """What a kilogram costs there, as the journey says."""
    with page.expect_response(lambda answer: f"/departures/{departure['id']}/" in answer.url):
        go(page, f"/journey/{departure['id']}?{about(soon)}")
    wait_until(page, f"!document.querySelector('.offline-line').textContent.includes('{said['age.asking']}')")
    return minor(page.locator("#cost + .big").inner_text())


def try_dearer(page, soon, said):
    """From the list of fares to what a dearer one would change."""
    go(page, "/fares?subject=tariffs")
    row = page.locator(".fare", has_text=soon.carrier)
    row.get_by_text("OLD").wait_for()
    row.get_by_role("link", name=said["fares.change"]).click()
    page.locator("form").wait_for()
    fill(page, {"valid_from": day_after(soon.date), "note": "heard at the taxi park"})
    page.locator("[name='rules.0.amount_minor']").fill(MUCH)
    page.get_by_role("button", name=said["tried.do"]).click()
    page.locator("#tried").wait_for()
    can_be_read(page)


def test_a_fare_from_tomorrow_moves_tomorrow_and_not_today_and_lists_the_quote_that_loses(
    held_by, soon, said
):
    page = held_by(role="manager")
    person = people_of(page, "manager")[0]
    days = departures_of(enrolled(page, person), soon)
    today, tomorrow = (days[day] for day in (soon.date, day_after(soon.date)))
    quote = quoted(writing(page, person), tomorrow, soon)["quote"]
    before = [each_kilogram(page, one, soon, said) for one in (today, tomorrow)]
    loses = page.locator(f".losing a[href='/quotes/{quote['id']}']")
    go(page, "/quotes")
    page.locator(f"a[href='/quotes/{quote['id']}']").first.wait_for()
    assert loses.count() == 0

    try_dearer(page, soon, said)
    assert loses.count() == 1
    assert [each_kilogram(page, one, soon, said) for one in (today, tomorrow)] == before

    try_dearer(page, soon, said)
    page.get_by_role("button", name=re.compile(said["fares.save"].split("{")[0])).click()
    page.locator(".fare", has_text=soon.carrier).locator(".coming").wait_for()

    after = [each_kilogram(page, one, soon, said) for one in (today, tomorrow)]
    assert after[0] == before[0]
    assert after[1] > before[1]
    go(page, "/quotes")
    loses.wait_for()
    can_be_read(page)
    assert minor(loses.inner_text()) > 0
    assert "K20.00 → K900.00" in loses.inner_text()
    go(page, "/fares/history?subject=tariffs")
    newest = page.locator(".entry-line", has_text="heard at the taxi park").first.inner_text()
    assert person["name"] in newest
    assert soon.carrier in newest


def test_a_price_that_is_old_says_so_on_the_bill_until_somebody_confirms_it(held_by, said):
    page = held_by(role="manager")
    go(page, "/fares")
    before = page.locator("a[href='/fares?subject=charges']").inner_text()
    assert "OLD" in before
    go(page, "/fares?subject=charges")
    old = page.locator(".fare .old").count()
    page.locator(".fare", has=page.locator(".old")).first.get_by_role(
        "button", name=said["fares.confirm"]
    ).click()
    page.locator(".fare .old").nth(old - 1).wait_for(state="detached")
    go(page, "/")
    page.locator(".slot-link").first.click()
    page.locator("#cost").wait_for()
    bill = page.locator("section", has=page.locator("#cost")).inner_text()
    assert re.search(r"\d+ prices were not confirmed for over 30 days", bill)


def test_a_file_shows_its_differences_before_it_is_taken_over_and_a_damaged_one_changes_nothing(
    held_by, said, tmp_path
):
    page = held_by(role="manager")
    go(page, "/imports")
    page.locator("[name=subject]").select_option("fish_prices")
    with page.expect_download() as download:
        page.get_by_role("button", name=said["imports.comma"]).click()
    table = tmp_path / "fish_prices.csv"
    download.value.save_as(table)
    lines = table.read_text(encoding="utf-8-sig").splitlines()
    coming = (date.today() + timedelta(days=40)).isoformat()
    code, _, _, _, *others = lines[-1].split(",")

    def look(name, text):
        file = tmp_path / name
        file.write_text(text, encoding="utf-8")
        page.locator("#file").set_input_files(file)
        page.get_by_role("button", name=said["imports.look"]).click()
        told = page.locator("#differences, [role=alert]").first
        told.wait_for()
        return page.locator("section", has=page.locator("#in")).inner_text()

    assert said["imports.same"] in look("same.csv", "\n".join(lines))
    damaged = look("damaged.csv", "\n".join([*lines[:-1], lines[-1].replace(code, "NONE")]))
    assert f"line {len(lines)}, species" in damaged
    can_be_read(page)
    assert page.get_by_role("button", name=said["imports.do"]).count() == 0
    new = ",".join([code, coming, "", "77.00", *others])
    assert "77.00" in look("new.csv", "\n".join([*lines, new]))
    can_be_read(page)
    page.get_by_role("button", name=said["imports.do"]).click()
    page.get_by_text(said["imports.done"]).wait_for()
    go(page, "/fares?subject=fish-prices")
    assert "77.00" in page.locator(".coming").inner_text()
    page.get_by_role("button", name=said["fares.withdraw"]).click()
    page.locator(".coming").wait_for(state="detached")


def test_everything_can_be_taken_out_as_one_archive(held_by, said):
    page = held_by(role="manager")
    go(page, "/imports")
    with page.expect_download() as download:
        page.get_by_role("button", name=said["archive.do"]).click()
    assert download.value.path().read_bytes()[:2] == b"PK"


def test_a_calendar_address_is_shown_once_works_and_is_withdrawn(held_by, said):
    page = held_by(role="member")
    go(page, "/who")
    page.get_by_text(said["calendar.title"]).click()
    page.get_by_role("button", name=said["calendar.make"]).click()
    address = page.locator(".link-text").inner_text()
    assert page.request.get(address).text().startswith("BEGIN:VCALENDAR")
    go(page, "/lots")
    go(page, "/who")
    page.get_by_text(said["calendar.title"]).click()
    assert page.locator(".link-text").count() == 0
    page.get_by_role("button", name=said["calendar.revoke"]).click()
    page.get_by_role("button", name=said["calendar.make"]).wait_for()
    assert page.request.get(address).status in (404, 410)
