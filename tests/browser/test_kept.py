"""Everything that a phone keeps comes in one download: then her whole work opens without a signal."""

import pytest

from tests.browser.holders import lock, people_of, take_on, unlock
from tests.browser.office import KEPT_LATE
from tests.browser.parcels import go
from tests.browser.screens import SLOT, wait_until, wait_until_kept

# Paths of the rows of the store that came with everything; the last of them is the cursor's own.
GIVEN = """async () => {
  const store = await new Promise((found) => {
    const asked = indexedDB.open('carton-hour');
    asked.onsuccess = () => found(asked.result);
  });
  const asked = store.transaction('own_answers').objectStore('own_answers').getAll();
  const rows = await new Promise((found) => (asked.onsuccess = () => found(asked.result)));
  store.close();
  return rows.filter((row) => row.given || row.cursor).map((row) => row.path);
}"""
KEPT = "/api/v1/kept/"
CAME = f"async () => (await ({GIVEN})()).includes('{KEPT}')"
# The line that says so, with its headers.
NOTHING_NEW_BYTES = 1_000


def given(page):
    """Paths of all that came with everything, once it has come."""
    wait_until(page, CAME)
    return [path for path in page.evaluate(GIVEN) if path != KEPT]


def named(paths, start, end="/"):
    """What stands in paths between their start and their end, where that is one name."""
    inside = (
        path.removeprefix(start).removesuffix(end)
        for path in paths
        if path.startswith(start) and path.endswith(end)
    )
    return [one for one in inside if one and "/" not in one and "?" not in one]


def screens_of(paths):
    """Addresses of a member's screens, and what stands on each that came from the server."""
    departure = next(path for path in paths if "/departures/" in path and "/departures/?" not in path)
    asked = departure.removeprefix("/api/v1/departures/").replace("/?", "?")
    lots, quotes = named(paths, "/api/v1/lots/"), named(paths, "/api/v1/quotes/")
    split = named(paths, "/api/v1/parcels/", "/split/")
    return [
        ("/lots", ".entry-line"),
        *((f"/lots/{one}", ".offline-line") for one in lots),
        ("/parcels", ".entry-line"),
        *((f"/parcels/{one}", ".offline-line") for one in split),
        *((f"/parcels/{one}/split", ".big") for one in split),
        ("/statement", ".entry"),
        ("/claims", ".offline-line"),
        ("/", SLOT),
        (f"/journey/{asked}", ".plot svg"),
        (f"/packing/{asked}", ".section svg"),
        ("/quotes", ".entry-line"),
        *((f"/quotes/{one}", ".offline-line") for one in quotes),
    ]


@pytest.fixture
def member(phone):
    """A phone that a member holds, without a signal; nothing but the first screen was opened on it."""
    page = phone()
    page.goto("/who")
    person = people_of(page, "member")[0]
    take_on(page, person)
    paths = given(page)
    wait_until_kept(page)
    wait_until(page, KEPT_LATE)
    page.context.set_offline(True)
    return page, paths, person


def test_after_the_download_each_screen_of_a_member_opens_without_a_signal(member, words):
    page, paths, _ = member
    for address, content in screens_of(paths):
        go(page, address)
        # Some of it may lie in a fold that is closed.
        page.locator(f"main {content}").first.wait_for(state="attached")
        assert page.locator("main [role=alert]").count() == 0, address
    seen = page.locator("main .offline-line").inner_text()
    assert words["en"]["frame.silent"] in seen


def test_the_first_screen_says_how_old_everything_is_after_the_phone_was_opened_anew(member, words):
    page, _, person = member
    page.clock.install()
    page.clock.fast_forward("03:05:00")
    page.reload()
    unlock(page, person)
    page.wait_for_selector(SLOT)
    said = words["en"]["kept.all"].replace("{age}", "3 hours ago")
    page.get_by_text(said).wait_for()


def test_she_asks_again_for_everything_where_there_is_a_signal(member, words):
    page, _, _person = member
    page.context.set_offline(False)
    go(page, "/kept")
    with page.expect_response(lambda response: KEPT in response.url) as asked:
        page.get_by_role("button", name=words["en"]["kept.everything"]).click()
    assert "since=" in asked.value.url
    assert asked.value.status in (200, 304)
    page.get_by_text(words["en"]["kept.kind.lots"]).wait_for()


def test_who_holds_the_phone_next_gets_her_own_and_the_first_finds_hers_again(phone):
    page = phone()
    page.goto("/who")
    first, second = people_of(page, "member")[:2]
    take_on(page, first)
    hers = set(named(given(page), "/api/v1/lots/"))
    lock(page)
    take_on(page, second)
    wait_until(page, f"async () => (await ({GIVEN})()).filter((path) => path === '{KEPT}').length === 2")
    both = set(named(given(page), "/api/v1/lots/"))
    assert hers < both
    go(page, "/lots")
    shown = page.locator("main a[href^='/lots/']").evaluate_all(
        "all => all.map(one => one.href.split('/').pop())"
    )
    assert not hers & set(shown)


def test_asking_again_when_nothing_changed_costs_next_to_nothing(phone, wire, words):
    page = phone(at=f"http://127.0.0.1:{wire.port}/")
    page.goto("/who")
    take_on(page, people_of(page, "member")[0])
    given(page)
    wait_until_kept(page)
    wait_until(page, KEPT_LATE)
    go(page, "/kept")
    page.wait_for_load_state("networkidle")
    before = wire.received
    with page.expect_response(lambda response: KEPT in response.url) as asked:
        page.get_by_role("button", name=words["en"]["kept.everything"]).click()
    assert asked.value.status == 304
    page.wait_for_load_state("networkidle")
    assert wire.received - before < NOTHING_NEW_BYTES
