import string

import pytest

from api.calendar_words import WORDS, words_of


def holes(text):
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


@pytest.mark.parametrize("language", WORDS)
def test_every_language_says_the_same_things_of_the_same(language):
    assert {key: holes(text) for key, text in WORDS[language].items()} == {
        key: holes(text) for key, text in WORDS["en"].items()
    }


def test_a_language_without_words_of_its_own_is_told_in_english():
    assert words_of("mg") is WORDS["en"]
    assert words_of("fr") is WORDS["fr"]
