"""Refusals in the language of whoever asks: a finished English sentence is told again by its template.

A failure is raised with its English words, wherever that is. `words/refusals/<language>.json` has a sentence
for each template of theirs, with the same holes {0}, {1}, …; a hole is filled with what stood there, told
again itself where it is words of ours. English that fits no template stays English and is marked as such.
"""

import json
import re
from contextvars import ContextVar
from functools import cache, lru_cache
from pathlib import Path
from typing import NamedTuple

from django.utils.cache import patch_vary_headers

FOLDER = Path(__file__).resolve().parent / "words" / "refusals"
USUAL = "en"
LANGUAGES = (USUAL, *sorted(path.stem for path in FOLDER.glob("*.json")))
HOLE = re.compile(r"\{(\d)\}")
# A list of sentences, of what is missing, or of both.
JOINTS = (re.compile(r"(?<=[.!?]) (?=[A-Z])"), re.compile("; "), re.compile(", "))
# Sentences that hold others together, after the name of a field: told again only if those are.
FRAMES = frozenset({"{0}: {1}.", "{0}: {1} (and {2} more).", "{0}: {1}; right is {2}"})
LONGEST, DEEPEST = 2000, 4
FAILED, JSON = 400, "application/json"
# The request that is answered just now, for words in answers that are no failures.
asking = ContextVar("asking", default=None)


class Template(NamedTuple):
    """English between holes, which hole is which, its letters and all its signs, and what it is told as."""

    pieces: tuple
    holes: tuple
    letters: int
    length: int
    told: str
    is_frame: bool


class Told(NamedTuple):
    """Words, how much of the English was ours, and whether nothing of it stayed English.

    `letters` counts those within its holes, too; `length` all signs of the outermost template.
    """

    words: str
    letters: int
    length: int
    whole: bool


def refusals_told(get_response):
    """Middleware: a failure in JSON is told in the language of its request; whatever else goes through."""

    def answer(request):
        mark = asking.set(request)
        try:
            response = get_response(request)
        finally:
            asking.reset(mark)
        if response.status_code < FAILED or not response.get("Content-Type", "").startswith(JSON):
            return response
        return retold(response, language_of(request))

    return answer


def retold(response, language):
    """A response with a failure of `api.errors.shape`, in a language and naming it; any other as it is."""
    body = json.loads(response.content or b"null")
    if not isinstance(body, dict) or "error" not in body:
        return response
    if language != USUAL:
        body["error"], language = in_language(body["error"], language)
        response.content = json.dumps(body, ensure_ascii=False, separators=(",", ":")).encode()
        if "Content-Length" in response:
            response["Content-Length"] = str(len(response.content))
    return said_in(response, language)


def language_of(request):
    """The first language that a browser asks for, of those that refusals are told in."""
    wanted = request.headers.get("Accept-Language", "").split(",") if request else ()
    known = (tag.split(";")[0].strip()[:2].lower() for tag in wanted)
    return next((tag for tag in known if tag in LANGUAGES), USUAL)


def in_language(error, language):
    """The error of a failure with its words in a language, and which languages are in it.

    What stayed English, the whole message or a field, says so in a `language` of its own.
    """
    fields = [_retold(field, ("problem", "right"), language) for field in error["fields"]]
    whole = _retold(error, ("message",), language) | {"fields": fields}
    stayed = ["language" in one for one in (whole, *fields)]
    return whole, USUAL if all(stayed) else f"{language}, {USUAL}" if any(stayed) else language


def said_in(response, language):
    """Writes onto a response which languages it is in, and that others may be asked for."""
    response["Content-Language"] = language
    patch_vary_headers(response, ["Accept-Language"])
    return response


def told_here(text):
    """{words, language} of an English sentence in an answer that is no failure, for whoever asks just now."""
    language = language_of(asking.get())
    found = Told(text, 0, 0, whole=True) if language == USUAL else _told(language, text, 0)
    stays = not found.whole
    return {"words": text if stays else found.words, "language": USUAL if stays else language}


def words_here(texts):
    """What is missing, or the like, as whoever asks just now reads it."""
    return [told_here(text)["words"] for text in texts]


def told(text, language):
    """English words in a language, or as they are."""
    return text if language == USUAL else _told(language, text, 0).words


def _retold(part, names, language):
    said = {name: _told(language, part[name], 0) for name in names}
    if all(one.whole for one in said.values()):
        return part | {name: one.words for name, one in said.items()}
    return part | {"language": USUAL}


@lru_cache(maxsize=4096)
def _told(language, text, depth):
    """The Told of a text: of all ways to read it, the one in which most letters are ours."""
    exact, open_ones = templates_of(language)
    if text in exact:
        return Told(exact[text], letters_of(text), len(text), whole=True)
    if len(text) > LONGEST or depth == DEEPEST:
        return Told(text, 0, 0, whole=False)
    ways = [
        _filled(language, one, found, depth) for one in open_ones if (found := holes_in(one.pieces, text))
    ]
    ways += [way for joint in JOINTS if (way := _joined(language, text, joint, depth))]
    best = Told(text, 0, 0, whole=not is_words(text))
    return max(ways, key=lambda way: (way.whole, way.letters, way.length), default=best)


def _filled(language, template, found, depth):
    parts = [_told(language, text, depth + 1) for text in found]
    if template.is_frame:
        parts[0] = Told(found[0], 0, 0, whole=True)
    filled = dict(zip(template.holes, parts, strict=True))
    words = HOLE.sub(lambda hole: filled[int(hole[1])].words, template.told)
    whole = not template.is_frame or all(part.whole for part in parts)
    return Told(words, template.letters + sum(part.letters for part in parts), template.length, whole)


def _joined(language, text, joint, depth):
    """A list of words of ours; None where one of them is not, for names are listed, too."""
    texts = joint.split(text)
    if len(texts) == 1:
        return None
    parts = [_told(language, one, depth + 1) for one in texts]
    if not all(part.letters and " " in one for part, one in zip(parts, texts, strict=True)):
        return None
    signs = joint.findall(text)
    words = "".join(f"{part.words}{sign}" for part, sign in zip(parts, [*signs, ""], strict=True))
    return Told(words, sum(part.letters for part in parts), 0, all(part.whole for part in parts))


def holes_in(pieces, text):
    """What stands between pieces of a text, each as early as can be; None where they do not fit.

    Every piece is looked for once, so no text takes longer than its length.
    """
    first, *middle, last = pieces
    at, end = len(first), len(text) - len(last)
    if at > end or not (text.startswith(first) and text.endswith(last)):
        return None
    found = []
    for piece in middle:
        place = text.find(piece, at, end)
        if place < 0:
            return None
        found.append(text[at:place])
        at = place + len(piece)
    return [*found, text[at:end]]


@cache
def templates_of(language):
    """{text: told} of those without holes, and the Templates of the others."""
    messages = catalogue_of(language)["messages"]
    exact = {english: said for english, said in messages.items() if not HOLE.search(english)}
    return exact, tuple(
        template_of(english, said) for english, said in messages.items() if english not in exact
    )


def template_of(english, said):
    parts = HOLE.split(english)
    pieces, holes = tuple(parts[::2]), tuple(map(int, parts[1::2]))
    letters, length = sum(map(letters_of, pieces)), sum(map(len, pieces))
    return Template(pieces, holes, letters, length, said, is_frame=english in FRAMES)


@cache
def catalogue_of(language):
    return json.loads((FOLDER / f"{language}.json").read_text(encoding="utf-8"))


def letters_of(text):
    return sum(map(str.isalpha, text))


def is_words(text):
    """Whether a text that no template fits is words: names and codes are single, or parted by commas."""
    return any(" " in part and letters_of(part) for part in text.split(", "))
