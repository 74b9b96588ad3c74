"""Everything that a phone keeps comes in one download: then her whole work opens without a signal."""

import pytest

from tests.browser.holders import people_of, take_on
from tests.browser.parcels import go
from tests.browser.screens import wait_until, wait_until_kept

# What stands in the rows of the one store: how many came with everything, and under which cursor.
GIVEN = """async (path) => {
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


def given(page):
    """Paths of all that came with everything, once it has come."""
    wait_until(page, CAME)
    return [path for path in page.evaluate(GIVEN) if path != KEPT]


def shows_its_content(page, address, content):
    """A screen opens with what it is about, and with no failure in its place."""
    go(page, address)
    page.locator(content).first.wait_for()
    assert page.locator("main .notice[role=alert]").count() == 0, address


def of_kind(paths, kind, end="/"):
    """Ids in the paths of one kind: /api/v1/<kind>/<id>/…"""
    start = f"/api/v1/{kind}/"
    ones = (path.removeprefix(start) for path in paths if path.startswith(start))
    return [one.removesuffix(end) for one in ones if not one.startswith("?") and one.endswith(end)]


@pytest.fixture
def member(phone):
    """A phone that a member holds, offline, on which nothing but the first screen was opened."""
    page = phone()
    page.goto("/who")
    take_on(page, people_of(page, "member")[0])
    paths = given(page)
    wait_until_kept(page)
    page.context.set_offline(True)
    return page, paths


def test_after_the_download_each_screen_of_a_member_opens_without_a_signal(member):
    page, paths = member
    lot, parcel = of_kind(paths, "lots")[0], of_kind(paths, "parcels", "/split/")[0]
    departure = next(one for one in of_kind(paths, "departures", "") if "/?" in one)
    name, asked = departure.split("/?")
    shows_its_content(page, "/lots", ".lot-line, main li")
    shows_its_content(page, f"/lots/{lot}", "main dl, main table, main .facts, main .big, main p")
