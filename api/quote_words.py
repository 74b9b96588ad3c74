"""What a buyer reads, in a language of ours: words of `api/words/`, and dates, numbers and money by CLDR."""

import json
from datetime import datetime
from decimal import Decimal
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from babel import Locale
from babel.dates import format_skeleton
from babel.numbers import format_decimal, format_percent, get_currency_precision

from api.coins import symbol_of

FOLDER = Path(__file__).resolve().parent / "words"
LANGUAGES = tuple(sorted(path.stem for path in FOLDER.glob("*.json")))
USUAL = "en"
SHARES, CELSIUS = "softened_share", "°C"
IN_TWENTY, IN_HUNDRED = 20, 100
SURE = 0.99


class Speech:
    """One language, on the clock of one place."""

    def __init__(self, language, time_zone="UTC"):
        catalogue = catalogue_of(language)
        self.language, self.locale = catalogue["language"], catalogue["locale"]
        self.words, self.read_by_native = catalogue["messages"], catalogue["read_by_native"]
        self.zone = ZoneInfo(time_zone)

    def __call__(self, name, **values):
        return self.words[name].format(**values)

    def number(self, value):
        return format_decimal(Decimal(str(value)), locale=self.locale)

    def instant(self, value):
        """A day and an hour, to the minute, downwards."""
        local = self._local(value)
        return f"{format_skeleton('MMMEd', local, locale=self.locale)}, {self._hour(local)}"

    def span(self, begins, ends):
        """Both ends of a span, the day of the second only where it is another one."""
        first, last = self._local(begins), self._local(ends)
        until = self._hour(last) if first.date() == last.date() else self.instant(last)
        return self.instant(first), until

    def day(self, value):
        return format_skeleton("yMMMd", self._local(value), locale=self.locale)

    def money(self, minor, currency, decimals):
        """Minor units by ISO 4217; with the decimals of CLDR, unless that would leave something out."""
        amount = Decimal(abs(minor)).scaleb(-decimals)
        usual = get_currency_precision(currency)
        digits = usual if amount == round(amount, usual) else decimals
        shown = format_decimal(amount, f"#,##0.{'0' * digits}" if digits else "#,##0", locale=self.locale)
        pattern = Locale.parse(self.locale).currency_formats["standard"]
        written = f"{pattern.prefix[0]}{shown}{pattern.suffix[0]}".replace("¤", symbol_of(currency))
        return f"−{written}" if minor < 0 else written

    def limit(self, kind, value):
        """What hard means, in words."""
        if kind == SHARES:
            shown = format_percent(Decimal(str(value)), locale=self.locale, decimal_quantization=False)
        else:
            shown = f"{self.number(value)} {CELSIUS}".replace("-", "−")
        return self(f"sure.limit.{kind}", value=shown)

    def chance(self, chance):
        """Whole times in twenty, or 99 in a hundred; never rounded up, and nothing is certain."""
        return self("sure.hard", **times_of(chance))

    def _local(self, value):
        instant = datetime.fromisoformat(value) if isinstance(value, str) else value
        return instant.astimezone(self.zone)

    def _hour(self, local):
        return format_skeleton("Hm", local, locale=self.locale)


@cache
def catalogue_of(language):
    """The words of a language; those of English where it has none."""
    known = language if language in LANGUAGES else USUAL
    return json.loads((FOLDER / f"{known}.json").read_text(encoding="utf-8"))


def times_of(chance):
    """{times, of} of a chance, downwards, as the screens say it."""
    if chance >= SURE:
        return {"times": 99, "of": IN_HUNDRED}
    return {"times": int(Decimal(str(chance)) * IN_TWENTY), "of": IN_TWENTY}


def fish_name(species, language):
    """Its name in a language, or in English where it has none there."""
    return species.get(f"name_{language}") or species["name_en"]


def share_text(quote, address):
    """Three short lines for the share sheet of a phone, in the buyer's language; the last is the link."""
    figures = quote.figures
    say = Speech(quote.language, figures["time_zone"])
    least = min(step["price_minor_per_kg"] for step in figures["ladder"])
    begins, ends = say.span(figures["arrives_from"], figures["arrives_until"])
    is_one = figures["arrives_from"] == figures["arrives_until"]
    lines = (
        say(
            "share.price",
            fish=fish_name(figures["species"], say.language),
            **{"from": say.number(quote.least_kg)},
            to=say.number(quote.most_kg),
            price=say.money(least, figures["currency"], figures["currency_decimals"]),
            place=figures["destination"],
        ),
        say(
            "share.when",
            when=begins if is_one else f"{begins} – {ends}",
            valid=say.instant(quote.valid_until),
            **times_of(figures["chance_hard"]),
        ),
        address,
    )
    return "\n".join(" ".join(line.split()) for line in lines)
