"""Taking people onto phones, the way they do it themselves."""

import json

HOLDER = ".holder"
OWN = "258036"
OTHERS = "739104"


def people_of(page, role=None):
    """The invented people of the demonstration, of one role or of all."""
    people = page.request.get("/api/v1/demonstration/").json()["people"]
    return [one for one in people if role in (None, one["role"])]


def code_for(page, person):
    """A one-time code, as a manager would give it."""
    asked = {"data": json.dumps({"member": person["id"]}), "headers": {"Content-Type": "application/json"}}
    return page.request.post("/api/v1/demonstration/", **asked, max_retries=3).json()["code"]


def press(page, digits):
    """Touches the digits of the keypad, and its last key."""
    for digit in digits:
        page.locator(".digit", has_text=digit).click()
    page.locator(".digit.done").click()


def choose_own(page, own):
    """The own code, twice; then the phone is hers."""
    page.locator(".keypad").wait_for()
    press(page, own)
    page.locator(".digit-marks .typed").first.wait_for(state="detached")
    press(page, own)
    page.locator(".keypad").wait_for(state="detached")


def take_on(page, person, own=OWN):
    """A person onto this phone by the link of her code; she holds it then."""
    page.goto(f"/enrol#{code_for(page, person)}")
    choose_own(page, own)
    page.locator(".ways a[href='/lots']").wait_for()


def unlock(page, person, own=OWN):
    """From the locked phone to her screens; alone on it she is chosen already."""
    page.locator(f"{HOLDER}, .keypad").first.wait_for()
    if not page.locator(".keypad").is_visible():
        page.locator(HOLDER, has_text=person["name"]).click()
    press(page, own)


def lock(page):
    """Locks the phone as its holder does."""
    page.locator(".ways a[href='/who']").click()
    page.locator(".holding .button.first").click()
    page.locator(".holding").wait_for(state="detached")
