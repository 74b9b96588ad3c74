import string

import pytest

from api.calendar_words import WORDS, words_of
from api.quote_words import LANGUAGES


def holes(text):
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


@pytest.mark.parametrize("language", WORDS)
def test_every_language_says_the_same_things_of_the_same(language):
    assert {key: holes(text) for key, text in WORDS[language].items()} == {
        key: holes(text) for key, text in WORDS["en"].items()
    }


@pytest.mark.parametrize("language", [one for one in LANGUAGES if one != "en"])
def test_every_language_of_the_buyer_s_page_is_one_of_the_calendar_in_words_of_its_own(language):
    assert words_of(language) is WORDS[language]
    assert [key for key, text in WORDS[language].items() if text == WORDS["en"][key]] == []


def test_a_language_without_words_of_its_own_is_told_in_english():
    assert words_of("bem") is WORDS["en"]
