"""What members and whoever packs do with lots and shared cartons, by what they see there."""

import json
import re

from tests.browser.screens import wait_until

# What was kept shows first: only then the server's answer stands there.
CAME = "!document.querySelector('main .waiting, main [aria-busy=true]')"
ASKED_MS = 150


def go(page, address):
    """Follows a link, as a finger would: opening the address anew would lock the phone."""
    page.evaluate(
        """(address) => {
            const link = Object.assign(document.createElement('a'), {href: address});
            document.body.append(link);
            link.click();
            link.remove();
        }""",
        address,
    )
    came(page)


def came(page):
    """The screen stands there, with the server's answer."""
    page.locator("h1").first.wait_for()
    page.wait_for_timeout(ASKED_MS)
    wait_until(page, CAME)


def fill(page, fields):
    for name, text in fields.items():
        field = page.locator(f"[name={name}]")
        if field.evaluate("(one) => one.tagName") == "SELECT":
            field.select_option(text)
        else:
            field.fill(text)


def offer(page, **fields):
    """Offers fish on the form; answers with the id of the lot."""
    go(page, "/lots/new")
    fill(page, fields)
    page.locator("form .button.first").click()
    page.wait_for_url("**/lots/*-*")
    return page.url.rsplit("/", 1)[1]


def minor(text):
    """Minor units of an amount on a screen, of a currency with two decimals."""
    return int(re.sub(r"\D", "", re.search(r"\d[\d ,\u00a0\u202f]*[.,]\d\d", text)[0]))


JSON = {"Content-Type": "application/json"}


def token_of(page, person, *, phone="beside"):
    """Of a phone of hers beside the screens, by its name."""
    asked = json.dumps({"member": person["id"]})
    code = page.request.post("/api/v1/demonstration/", data=asked, headers=JSON, max_retries=3).json()["code"]
    body = json.dumps({"code": code, "phone_name": phone, "phone": None})
    return page.request.post("/api/v1/enrolments/", data=body, headers=JSON).json()["token"]


def enrolled(page, person):
    """Asks the interface in a person's name, beside the screens."""
    token = token_of(page, person)
    return lambda path: page.request.get(path, headers={"Authorization": f"Token {token}"}).json()


def writing(page, person):
    """Writes in a person's name, beside the screens."""
    headers = JSON | {"Authorization": f"Token {token_of(page, person)}"}

    def write(path, body, method="POST"):
        answer = page.request.fetch(path, method=method, data=json.dumps(body), headers=headers)
        assert answer.ok, answer.text()
        return answer.json() if answer.text() else None

    return write
