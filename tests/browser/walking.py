"""From screen to screen as a finger goes: by what can be touched there."""

from tests.browser.parcels import came
from tests.browser.screens import wait_until


def follow(page, link):
    """Touches what leads on, and waits until the screen it leads to stands there."""
    before = page.url
    assert not before.endswith(link.get_attribute("href"))
    link.click()
    wait_until(page, "(before) => location.href !== before", before)
    came(page)


def way_to(page, address):
    """By the ways at the foot of every screen."""
    follow(page, page.locator(f".ways a[href='{address}']"))


def send(page):
    """Sends the form that stands on the screen."""
    page.locator("main form .button.first").first.click()
