"""Words, dates, numbers and money of the buyer's page, in each of its languages."""

import re
from datetime import UTC, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.quote_words import LANGUAGES, Speech, catalogue_of, fish_name, share_text, times_of
from tests.factories.quotes import QuoteFactory, figures

SPACES = re.compile(r"[\u00a0\u202f]")


def plain(text):
    """With spaces that a keyboard has: CLDR uses narrow ones."""
    return SPACES.sub(" ", text)


def test_there_are_four_languages_and_each_says_whether_a_native_reader_checked_it():
    assert LANGUAGES == ("en", "fr", "mg", "sw")
    for language in LANGUAGES:
        assert isinstance(catalogue_of(language)["read_by_native"], bool)


def test_every_language_has_the_same_words_with_the_same_gaps():
    first, *others = ({name: gaps(text) for name, text in words(language).items()} for language in LANGUAGES)
    assert all(other == first for other in others)


def words(language):
    return catalogue_of(language)["messages"]


def gaps(text):
    return set(re.findall(r"\{(\w+)\}", text))


@pytest.mark.parametrize("language", [one for one in LANGUAGES if one != "en"])
def test_no_word_is_empty_or_left_in_english(language):
    english, others = words("en"), words(language)
    assert all(text.strip() for text in (*english.values(), *others.values()))
    assert [name for name in english if english[name] == others[name]] == []


def test_a_language_without_words_is_spoken_in_english():
    assert Speech("bem").language == Speech("").language == "en"


@pytest.mark.parametrize(
    ("language", "minor", "currency", "decimals", "shown"),
    [
        # CLDR: kwacha have a symbol where they are at home (en_ZM), and two decimals.
        ("en", 123_450, "ZMW", 2, "K1,234.50"),
        ("fr", 123_450, "ZMW", 2, "1 234,50 K"),
        # CLDR: Malagasy and Swahili have the coin in front, with a space.
        ("mg", 123_450, "ZMW", 2, "K 1,234.50"),
        ("sw", 123_450, "TZS", 2, "TSh 1,234.50"),
        ("en", -5, "ZMW", 2, "−K0.05"),
        # ISO 4217 has two decimals for MGA, CLDR none (reference, §10): they are shown where they count.
        ("fr", 123_400, "MGA", 2, "1 234 Ar"),
        ("fr", 123_450, "MGA", 2, "1 234,50 Ar"),
        ("mg", 123_400, "MGA", 2, "Ar 1,234"),
        # None at all.
        ("fr", 1234, "XOF", 0, "1 234 F CFA"),
        ("en", 0, "ZMW", 2, "K0.00"),
    ],
)
def test_money_is_shown_as_people_of_the_place_write_it_and_loses_nothing(
    language, minor, currency, decimals, shown
):
    assert plain(Speech(language).money(minor, currency, decimals)) == shown


@given(st.integers(0, 10**12))
def test_no_amount_is_rounded(minor):
    shown = Speech("en").money(minor, "ZMW", 2)
    assert Decimal(re.sub(r"[^\d.]", "", shown)) * 100 == minor


def test_days_and_hours_are_those_of_the_place():
    instant = datetime(2026, 3, 2, 22, 5, 59, tzinfo=UTC)
    assert Speech("en", "Africa/Lusaka").instant(instant) == "Tue, 3 Mar, 00:05"
    assert plain(Speech("fr", "Africa/Lusaka").instant(instant)) == "mar. 3 mars, 00:05"
    # CLDR, Malagasy and Swahili: Talata and Jumanne are Tuesday, Mar and Mac March.
    assert Speech("mg", "Africa/Lusaka").instant(instant) == "Tal 3 Mar, 00:05"
    assert Speech("sw", "Africa/Lusaka").instant(instant) == "Jumanne, 3 Mac, 00:05"
    assert Speech("en", "Africa/Lusaka").day("2026-03-02T23:00:00+00:00") == "3 Mar 2026"


def test_a_span_names_its_second_day_only_where_it_is_another():
    say = Speech("en", "Africa/Lusaka")
    morning, noon, next_day = (
        f"2026-03-{day}T{hour}:00:00+02:00" for day, hour in (("03", "08"), ("03", 12), ("04", "01"))
    )
    assert say.span(morning, noon) == ("Tue, 3 Mar, 08:00", "12:00")
    assert say.span(morning, next_day) == ("Tue, 3 Mar, 08:00", "Wed, 4 Mar, 01:00")


@pytest.mark.parametrize(
    ("kind", "value", "english", "french"),
    [
        ("softened_share", 0.05, "not more than 5% of", "pas plus de 5 % du"),
        ("softened_share", 0.125, "not more than 12.5% of", "pas plus de 12,5 % du"),
        ("core_c", -9.5, "not warmer than −9.5 °C", "pas plus chaud que −9,5 °C"),
        ("mean_c", -18.0, "than −18 °C on average", "que −18 °C en moyenne"),
        ("warmest_c", -5.0, "warmest twentieth", "vingtième le plus chaud"),
    ],
)
def test_the_limit_is_said_in_words(kind, value, english, french):
    assert english in Speech("en").limit(kind, value)
    assert french in plain(Speech("fr").limit(kind, value))


@pytest.mark.parametrize(
    ("chance", "times", "of"),
    [(0.95, 19, 20), (0.9499, 18, 20), (0.989, 19, 20), (0.99, 99, 100), (1.0, 99, 100), (0.5, 10, 20)],
)
def test_a_chance_is_said_in_whole_times_and_never_rounded_up(chance, times, of):
    assert times_of(chance) == {"times": times, "of": of}


@given(st.floats(0, 1))
def test_no_chance_is_promised_higher_than_it_is(chance):
    said = times_of(chance)
    assert said["times"] <= chance * said["of"] + 1e-9


def test_fish_has_its_english_name_where_it_has_no_other():
    species = {"name_en": "Sleek lates", "name_fr": ""}
    assert fish_name(species, "fr") == "Sleek lates"
    assert fish_name({**species, "name_fr": "Perche"}, "fr") == "Perche"


@pytest.mark.django_db
@pytest.mark.parametrize("language", LANGUAGES)
def test_the_text_to_be_shared_is_three_short_lines_the_last_with_the_link(language):
    address = "https://example.org/q/LOT4uY0lt9o5Yq6tNZ8nCbVd3x/"
    lines = share_text(QuoteFactory(language=language), address).split("\n")
    assert len(lines) == 3
    assert lines[-1] == address
    assert all(len(line) <= 100 for line in lines)
    assert "100" in lines[0]
    assert "19" in lines[1]


@pytest.mark.django_db
def test_long_names_of_fish_and_places_leave_the_lines_as_many():
    named = figures(destination="Kapiri Mposhi", species={"name_en": "Tanganyika sardine, dried\nin the sun"})
    assert "\n" in named["species"]["name_en"]
    assert len(share_text(QuoteFactory(figures=named), "x").split("\n")) == 3
