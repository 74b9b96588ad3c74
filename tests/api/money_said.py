"""The same amounts, as the server writes them in each language.

`frontend/test/money.test.js` holds the screens to it.

`python -m tests.api.money_said` writes the file anew.
"""

import json
from pathlib import Path

from api.coins import COINS
from api.quote_words import LANGUAGES, Speech

FILE = Path(__file__).resolve().parents[2] / "frontend" / "test" / "money_said.json"
# Nothing, the least, whole ones, groups of three, what no float keeps after division, and what is owed.
AMOUNTS = (0, 5, 50, 4300, 3894, 100_000, 123_450, 1_234_500, 123_456_789, 900_719_925_474_099, -1, -123_450)
# ISO 4217: decimals of the minor unit, where they are not two. GHS stands for a coin that is in no table.
DECIMALS = dict.fromkeys(("XOF", "XAF", "UGX", "RWF", "BIF", "KMF"), 0)
CURRENCIES = (*COINS, "GHS")


def said():
    """Lines of {language, minor, currency, decimals, text}."""
    return [
        {
            "language": language,
            "minor": minor,
            "currency": currency,
            "decimals": DECIMALS.get(currency, 2),
            "text": Speech(language).money(minor, currency, DECIMALS.get(currency, 2)),
        }
        for language in LANGUAGES
        for currency in CURRENCIES
        for minor in AMOUNTS
    ]


def as_text(lines):
    return "[\n" + ",\n".join(json.dumps(line, ensure_ascii=False) for line in lines) + "\n]\n"


if __name__ == "__main__":
    FILE.write_text(as_text(said()), encoding="utf-8")
