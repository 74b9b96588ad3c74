"""Another weight, without a signal: worked out on the phone."""

from tests.browser.screens import SLOT, open_departures, too_wide, wait_until, wait_until_kept

RECKONED = """async () => {
  const store = await new Promise((found) => {
    const asked = indexedDB.open('carton-hour');
    asked.onsuccess = () => found(asked.result);
  });
  const asked = store.transaction('answers').objectStore('answers').getAllKeys();
  const keys = await new Promise((found) => (asked.onsuccess = () => found(asked.result)));
  store.close();
  return keys.map((key) => decodeURIComponent(key).match(/([^/]+)[/]reckoning[/]/)?.[1]).find(Boolean);
}"""


def test_another_weight_and_temperature_are_worked_out_without_a_signal(phone, words):
    page, said = open_departures(phone()), words["en"]
    wait_until_kept(page)
    wait_until(page, RECKONED)
    first = page.evaluate(RECKONED)
    page.context.set_offline(True)
    page.locator(f"{SLOT} [href^='/journey/{first}']").first.click()
    section = page.locator("section[aria-labelledby=reckon]")
    section.locator("[name=mass_kg]").fill("60")
    section.locator("[name=start_temperature_c]").fill("-15")
    told = section.locator("[role=status]")
    told.get_by_text(said["fact.holds"]).wait_for()
    assert said["reckon.note"] in section.inner_text()
    assert said["cost.title"] in told.inner_text()
    assert too_wide(page) <= 0
    section.locator("[name=start_temperature_c]").fill("-6")
    told.get_by_text(said["reckon.outside.warmer"]).wait_for()


def test_with_a_signal_the_full_answer_takes_its_place_when_asked(phone, words):
    page, said = open_departures(phone()), words["en"]
    page.locator(f"{SLOT} .slot-link").first.click()
    section = page.locator("section[aria-labelledby=reckon]")
    section.locator("[name=mass_kg]").fill("61")
    section.get_by_role("link", name=said["reckon.full"]).click()
    page.get_by_text("61 kg").first.wait_for()
    page.locator(".plot svg").first.wait_for()
    assert "mass_kg=61" in page.url
