"""The manager's own screens: members, codes, phones; and the screens of people, touched and heard."""

from uuid import uuid4

import pytest

from tests.browser.holders import HOLDER, OWN, choose_own, code_for, lock, people_of, press, take_on, unlock
from tests.browser.looks import complaints, holds_in_each_look
from tests.browser.screens import SLOT, too_wide


@pytest.fixture
def manager(phone):
    page = phone()
    page.goto("/who")
    person = people_of(page, "manager")[0]
    take_on(page, person)
    return page, person


def test_a_manager_makes_a_code_that_another_phone_uses_and_turns_that_phone_out(manager, phone, words):
    page, chief = manager
    landing = f"The one at the landing, {uuid4().hex[:6]}"
    joined = next(one for one in people_of(page, "member") if one["id"] != chief["id"])
    page.locator(".ways a[href='/who']").click()
    page.get_by_role("link", name=words["en"]["members.title"]).click()
    line = page.locator("details.member", has_text=joined["name"])
    line.locator("summary").first.click()
    line.get_by_role("button", name=words["en"]["code.make"]).click()
    code = line.locator(".code-value")
    code.wait_for()
    assert line.locator(".qr path").count() == 2
    hers = phone()
    hers.goto("/enrol")
    hers.locator("[name=enrol_code]").fill(code.inner_text())
    hers.locator("[name=phone_name]").fill(landing)
    hers.get_by_role("button", name=words["en"]["enrol.next"]).click()
    choose_own(hers, OWN)
    hers.wait_for_selector(SLOT)
    page.goto("/phones")
    unlock(page, chief)
    device = page.locator("details.member", has_text=landing)
    device.locator("summary").click()
    device.get_by_role("button", name=words["en"]["phones.revoke.do"]).click()
    # It goes when it can no longer be undone.
    out = page.locator("details.sewn", has=page.locator("h2", has_text=words["en"]["phones.out"]))
    out.locator("details.member", has_text=landing).wait_for(state="attached")
    hers.get_by_role("button", name=words["en"]["again"]).first.click()
    hers.get_by_text(words["en"]["out.kept"]).wait_for()
    assert hers.locator(SLOT).count() > 0
    hers.reload()
    unlock(hers, joined)
    hers.get_by_text(words["en"]["out.kept"]).wait_for()


def test_a_manager_adds_a_member_and_is_told_what_is_wrong_with_one(manager, words):
    page, chief = manager
    page.goto("/members")
    unlock(page, chief)
    ruth = f"Ruth {uuid4().hex[:6]}"
    page.get_by_text(words["en"]["members.add"]).click()
    form = page.locator(
        "form", has=page.get_by_role("button", name=words["en"]["members.add.do"], exact=True)
    )
    form.locator("[name=name]").fill(" ")
    form.get_by_role("button").click()
    page.locator("#fault-name").wait_for()
    form.locator("[name=name]").fill(ruth)
    form.get_by_role("button").click()
    page.locator("details.member", has_text=ruth).wait_for()


def test_a_manager_signs_in_with_name_and_password(manager, phone, words):
    page, _ = manager
    page.locator(".ways a[href='/who']").click()
    page.get_by_text(words["en"]["password.own"], exact=True).click()
    page.locator("[name=name]").fill("chief")
    page.locator("[name=password]").fill("eleven hard fish")
    page.get_by_role("button", name=words["en"]["password.own.do"]).click()
    page.get_by_text(words["en"]["password.own.done"]).wait_for()
    other = phone()
    other.goto("/enrol")
    other.get_by_text(words["en"]["password.title"]).click()
    for password, sign in (("eleven soft fish", "[role=alert]"), ("eleven hard fish", SLOT)):
        other.locator("[name=sign_in_name]").fill("chief")
        other.locator("[name=password]").fill(password)
        other.get_by_role("button", name=words["en"]["password.do"]).last.click()
        choose_own(other, OWN)
        other.locator(sign).first.wait_for()


def walk(page, words, chief):
    """Every screen of people, each in the state in which most of it shows."""
    page.goto("/enrol")
    page.locator(HOLDER).first.wait_for()
    page.get_by_text(words["password.title"]).click()
    yield "enrol"
    page.goto(f"/enrol#{code_for(page, chief)}")
    page.locator(".keypad").wait_for()
    press(page, "1111")
    page.locator(".fault").wait_for()
    yield "own code"
    choose_own(page, OWN)
    page.wait_for_selector(SLOT)
    page.locator(".ways a[href='/who']").click()
    for fold in page.locator("summary").all():
        fold.click()
    yield "who"
    page.get_by_role("link", name=words["members.title"], exact=True).click()
    page.locator("details.member summary").first.click()
    page.get_by_role("button", name=words["code.make"]).first.click()
    page.locator(".qr").wait_for()
    for fold in page.locator("details.member").first.locator("details summary").all():
        fold.click()
    yield "members"
    page.get_by_role("link", name=words["phones.title"], exact=True).click()
    page.locator("details.member summary").first.click()
    yield "phones"
    lock(page)
    page.locator(f"{HOLDER}, .keypad").first.wait_for()
    yield "locked"
    press(page, "9999")
    page.locator(".fault").wait_for()
    yield "unlock"


@pytest.mark.parametrize(("width", "locale"), [(320, "fr-FR"), (320, "mg-MG"), (320, "sw-TZ")])
def test_the_screens_of_people_can_be_seen_touched_and_read_aloud(phone, words, width, locale):
    page = phone(width=width, locale=locale)
    page.goto("/who")
    for screen in walk(page, words[locale[:2]], people_of(page, "manager")[0]):
        assert (screen, too_wide(page)) == (screen, 0)
        small = page.evaluate(
            """() => [...document.querySelectorAll('a[href], button, summary, select, input')]
              .filter((one) => one.checkVisibility() && !one.matches('.skip, .digit-field'))
              .map((one) => [one.textContent || one.name, one.getBoundingClientRect().height])
              .filter(([, height]) => height < 47.5)"""
        )
        assert (screen, small) == (screen, [])
        assert (screen, complaints(page)) == (screen, [])


def test_the_screens_of_people_can_be_read_in_light_in_dark_and_in_large_text(phone, words):
    page = phone()
    page.goto("/who")
    for screen in walk(page, words["en"], people_of(page, "manager")[0]):
        holds_in_each_look(page, screen)
