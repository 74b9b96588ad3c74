"""Symbols of coins: held to CLDR, and the screens to the server."""

import pytest
from babel import Locale, UnknownLocaleError
from babel.numbers import get_currency_symbol

from api.coins import COINS, symbol_of
from tests.api.money_said import FILE, as_text, said

# Languages of the countries where these coins are at home.
AT_HOME = ("en", "fr", "mg", "sw", "pt")


def symbols(currency):
    """CLDR's symbols of a currency in languages of its country; in any, where it has several countries."""
    for language in AT_HOME:
        try:
            yield get_currency_symbol(currency, Locale.parse(f"{language}_{currency[:2]}"))
        except UnknownLocaleError:
            yield get_currency_symbol(currency, language)


@pytest.mark.parametrize(("currency", "coin"), COINS.items())
def test_a_coin_is_called_as_at_home(currency, coin):
    assert coin != currency
    assert coin in set(symbols(currency))


def test_a_coin_of_another_place_is_called_by_its_code():
    assert symbol_of("GHS") == "GHS"


def test_the_screens_are_held_to_what_the_server_writes():
    assert FILE.read_text(encoding="utf-8") == as_text(said()), (
        "write it anew: python -m tests.api.money_said"
    )
