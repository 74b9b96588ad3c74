"""Somebody of the office at her work."""

from tests.browser.holders import people_of, take_on
from tests.browser.parcels import enrolled, writing
from tests.browser.sight import Sight, spoken


class Office:
    """A person at her phone, in one language and width; beside it what the server says in her name."""

    def __init__(self, page, words, language, role):
        self.page, self.language = page, language
        self.said = words[language] | words[f"office_{language}"]
        self.sight = Sight(page, words)
        page.goto("/who")
        self.person = people_of(page, role)[0]
        take_on(page, self.person)
        self.asked, self.write = enrolled(page, self.person), writing(page, self.person)

    def button(self, key, **values):
        return self.page.get_by_role("button", name=spoken(self.said, key, **values), exact=True)

    def link(self, key, **values):
        return self.page.get_by_role("link", name=spoken(self.said, key, **values), exact=True)
