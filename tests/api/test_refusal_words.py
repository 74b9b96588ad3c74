import json
import re

import pytest
from django.http import HttpResponse, JsonResponse
from django.test import Client, RequestFactory

from api import refusal_words
from api.errors import shape
from api.refusal_words import FRAMES, LANGUAGES, USUAL, catalogue_of, in_language, language_of, told
from coop.errors import Problem
from tests.api.refusal_texts import collected
from tests.api.refusal_texts_by_hand import BY_HAND
from tests.api.refusal_texts_of_fields import texts_of_fields

HOLE = re.compile(r"\{\d\}")
OTHERS = [language for language in LANGUAGES if language != USUAL]
SAMPLES = ("Ⅰ", "Ⅱ", "Ⅲ", "Ⅳ", "Ⅴ")
# What hands on a text that is found elsewhere, so that nothing is seen here, and where it comes from.
HANDED_ON = {
    "api/csv_columns.py: unfit.args": "each Unfit",
    "api/filtering.py: str(details[0]).rstrip('.')": "messages of forms: texts_of_fields",
    "api/departures_reasons.py: words_of(values)": "each _say_…",
    "coop/models/ownership.py: problems.items()": "_stranger",
    "coop/selectors/parcel_judgement.py: failure.problems": "each Problem",
    "coop/services/sign_in.py: ' '.join(refusal.messages)": "of Django, by hand",
    "coop/services/writing.py: ' '.join(messages)": "of Django, by hand",
    "api/callers.py: self.seconds": "no text",
    "api/packing.py: serializers.FloatField()": "no text",
}


def texts():
    """{English template: where it was found}."""
    by_hand = {text: reason for reason, said in BY_HAND.items() for text in said}
    return collected().texts | by_hand


def messages(language):
    return catalogue_of(language)["messages"]


def filled(text):
    return HOLE.sub(lambda hole: SAMPLES[int(hole[0][1])], text)


def test_there_are_words_in_every_language_of_the_screens():
    assert LANGUAGES == ("en", "fr", "mg", "sw")
    for language in OTHERS:
        catalogue = catalogue_of(language)
        assert catalogue["language"] == language
        assert isinstance(catalogue["read_by_native"], bool)


@pytest.mark.parametrize("language", OTHERS)
def test_every_text_of_a_failure_is_there(language):
    missing = {text: place for text, place in texts().items() if text not in messages(language)}
    lines = "\n".join(
        f'    {json.dumps(text, ensure_ascii=False)}: "",  <- {missing[text]}' for text in missing
    )
    assert not missing, f"add to api/words/refusals/{language}.json:\n{lines}"


@pytest.mark.parametrize("language", OTHERS)
def test_what_fields_say_is_told_whole(language):
    english = sorted(text for text in texts_of_fields() if not refusal_words._told(language, text, 0).letters)
    lines = "\n".join(f'    {json.dumps(text, ensure_ascii=False)}: "",' for text in english)
    assert not english, f"add to api/words/refusals/{language}.json, with {{0}} for figures:\n{lines}"


@pytest.mark.parametrize("language", OTHERS)
def test_no_words_are_left_of_a_text_that_is_gone(language):
    used = {*texts(), *entries_of_fields(language)}
    left = [text for text in messages(language) if text not in used]
    assert not left, "take these out of every api/words/refusals/*.json:\n" + "\n".join(left)


def entries_of_fields(language):
    """Entries by which the texts of fields are told, whole or in a hole of another."""
    found, waiting = set(), [*texts_of_fields()]
    exact, open_ones = refusal_words.templates_of(language)
    english = {said: text for text, said in messages(language).items()}
    while waiting:
        text = waiting.pop()
        if text in exact:
            found.add(text)
            continue
        fits = [(one, refusal_words.holes_in(one.pieces, text)) for one in open_ones]
        for one, holes in fits:
            if holes:
                found.add(english[one.told])
                waiting += [hole for hole in holes if len(hole) > 2]
    return found


@pytest.mark.parametrize("language", OTHERS)
def test_each_has_the_same_holes(language):
    for text, said in messages(language).items():
        assert sorted(HOLE.findall(said)) == sorted(HOLE.findall(text)), text
        assert len({*HOLE.findall(text)}) == len(HOLE.findall(text)), text


@pytest.mark.parametrize("language", OTHERS)
def test_each_is_found_again_once_its_holes_are_filled(language):
    wrong = [
        text for text, said in messages(language).items() if told(filled(text), language) != filled(said)
    ]
    assert not wrong


@pytest.mark.parametrize("language", OTHERS)
def test_none_is_empty_or_left_in_english(language):
    alike = [
        text
        for text, said in messages(language).items()
        if not said.strip() or (said == text and len(re.findall("[a-z]{3,}", text)) > 2)
    ]
    assert not alike


def test_what_is_not_seen_in_the_source_is_known():
    unseen = {*collected().unseen} - {text for text in collected().unseen if ": Problem(" in text}
    assert unseen == {*HANDED_ON}


def test_frames_hold_nothing_but_others():
    for frame in FRAMES:
        assert not re.search(
            "[a-z]", HOLE.sub("", frame).replace("right is", "").replace("and", "").replace("more", "")
        )


def test_words_within_a_sentence_are_told_as_well():
    said = told("Only a packer or a manager may offer fish for somebody else.", "fr")
    assert said == "Seul quelqu’un qui emballe ou un gérant peut proposer du poisson pour quelqu’un d’autre."


def test_names_and_codes_stay_as_they_are():
    assert told("one of lot, parcel", "sw") == "moja ya lot, parcel"
    assert told("Anna is the last manager: make another one first.", "mg").startswith("Anna no mpitantana")


def test_two_sentences_are_told_one_by_one():
    said = told("This field cannot be blank. Enter a valid value.", "sw")
    assert said == "Hii isiachwe tupu. Thamani hii si sahihi."


def test_a_text_that_nobody_knows_stays_english():
    assert told("Nobody wrote this.", "fr") == "Nobody wrote this."


def test_a_text_without_end_is_not_searched():
    text = f"{'x' * 300_000}: is not a field here; right is a text"
    assert told(text, "fr") == text


def test_what_stays_english_says_so_and_nothing_else_does():
    known = Problem("kg", "5", "is not offered", "at most 3 kg")
    strange = Problem("kg", "5", "was never heard of", "at most 3 kg")
    error, shown = in_language(shape("invalid", "Nobody wrote this.", [known, strange])["error"], "fr")
    assert shown == "fr, en"
    assert (error["message"], error["language"]) == ("Nobody wrote this.", "en")
    first, second = error["fields"]
    assert (first["problem"], first["right"]) == ("n’est pas proposé", "3 kg au plus")
    assert "language" not in first
    assert (second["problem"], second["right"]) == (strange.problem, strange.right)
    assert second["language"] == "en"


def test_a_sentence_around_english_words_stays_english_whole():
    error, shown = in_language(shape("invalid", "kg: was never heard of.")["error"], "fr")
    assert (error["message"], shown) == ("kg: was never heard of.", "en")


@pytest.mark.parametrize(
    ("asked", "language"),
    [
        ("", "en"),
        ("sw", "sw"),
        ("mg-MG, fr;q=0.8", "mg"),
        ("de, fr;q=0.5", "fr"),
        ("en-GB, fr", "en"),
        ("x", "en"),
    ],
)
def test_the_first_language_counts_that_is_here(asked, language):
    assert language_of(RequestFactory().get("/", headers={"Accept-Language": asked})) == language


@pytest.mark.parametrize(
    ("language", "message"),
    [
        ("en", "There is nothing at this address."),
        ("fr", "Il n’y a rien à cette adresse."),
        ("mg", "Tsy misy na inona na inona amin’ity adiresy ity."),
        ("sw", "Hakuna kitu kwenye anwani hii."),
    ],
)
def test_a_failure_comes_in_the_language_of_its_request(language, message):
    response = Client(headers={"Accept-Language": language}).get("/api/v1/boats/")
    assert response.status_code == 404
    assert response.json()["error"]["message"] == message
    assert response["Content-Language"] == language
    assert "Accept-Language" in response["Vary"]
    assert int(response["Content-Length"]) == len(response.content)


@pytest.mark.parametrize("response", [JsonResponse({"a": 1}), HttpResponse("no", status=404)])
def test_what_is_no_failure_goes_through_untouched(response):
    before = response.content
    through = refusal_words.refusals_told(lambda _request: response)
    answer = through(RequestFactory().get("/", headers={"Accept-Language": "fr"}))
    assert answer.content == before
    assert "Content-Language" not in answer


def test_other_keys_of_a_failure_are_kept():
    body = shape("conflict", "This is not allowed.") | {"current": {"kg": 5}}
    through = refusal_words.refusals_told(lambda _request: JsonResponse(body, status=409))
    answer = json.loads(through(RequestFactory().get("/", headers={"Accept-Language": "fr"})).content)
    assert answer["current"] == {"kg": 5}
    assert answer["error"]["message"] == "Ceci n’est pas permis."
