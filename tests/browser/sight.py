"""What must hold of every screen in every language: it fits, and nothing on it is left of the machine."""

import re

from tests.browser.screens import too_wide

WIDTHS = (320, 360, 412)

# Text of the screen, the words of its pictures and fields with it; closed folds as well.
ALL_WORDS = """() => {
  const names = ['aria-label', 'title', 'alt', 'placeholder'];
  const named = [...document.querySelectorAll(names.map((name) => `[${name}]`).join())]
    .flatMap((one) => names.map((name) => one.getAttribute(name)));
  const { title, body } = document;
  return [title, body.innerText, body.textContent, ...named].filter(Boolean).join('\\n');
}"""
BROKEN = re.compile(r"undefined|\bNaN\b|\[object|\{\w+\}|Invalid Date|Infinity")
KEY = re.compile(r"\b[a-z_]+(?:\.[a-z0-9_]+)+\b")


def subjects(words):
    """First words of all keys of the catalogues: `lot` of `lot.state.offered`."""
    return {key.split(".")[0] for messages in words.values() for key in messages if "." in key}


def left_over(page, words):
    """Keys that stand in place of their words, and what a program says where it knows nothing."""
    text = page.evaluate(ALL_WORDS)
    begun = subjects(words)
    keys = [key for key in KEY.findall(text) if key.split(".")[0] in begun]
    return sorted({*keys, *BROKEN.findall(text)})


class Sight:
    """Looks at a page after each step of a job, at each width of a phone; `seen` are its addresses."""

    def __init__(self, page, words):
        self.page, self.words, self.seen = page, words, []

    def holds(self):
        address = re.sub(r"^https?://[^/]+", "", self.page.url)
        assert (address, self.over(), left_over(self.page, self.words)) == (address, {}, [])
        self.seen.append(address)

    def over(self):
        """By how many pixels it is too wide, by the width of the phone; it ends as wide as it began."""
        began, found = self.page.viewport_size, {}
        for width in sorted(WIDTHS, key=lambda one: one == began["width"]):
            self.page.set_viewport_size(began | {"width": width})
            found[width] = too_wide(self.page)
        return {width: over for width, over in found.items() if over > 0}


def spoken(said, key, **values):
    """A sentence of a catalogue with its values; with `count` the form that every language has."""
    sentence = said[key] if isinstance(said[key], str) else said[key]["other"]
    return re.sub(r"\{(\w+)\}", lambda found: str(values[found[1]]), sentence)


def text_of(locator):
    """What it says, with plain spaces in place of those that do not break."""
    return re.sub(r"[\u00a0\u202f]", " ", locator.inner_text())


def weighs(locator, kg):
    """Whether it says so many kilograms; in Swahili their unit stands before them."""
    return re.search(rf"(?<![\d.,]){kg} kg|kg {kg}(?![\d.,])", text_of(locator)) is not None
