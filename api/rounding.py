"""Numbers as they leave: rounded to the careful side, and null where there is none to give."""

import math
from datetime import timedelta
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

HOUR = 3600.0


def nearest(value, decimals):
    return _rounded(value, decimals, ROUND_HALF_EVEN)


def down(value, decimals):
    """For what must not be hoped too high: chances, holds, hours to spare."""
    return _rounded(value, decimals, ROUND_FLOOR)


def up(value, decimals):
    """For what must not be thought too little: shares that soften, hours of a journey."""
    return _rounded(value, decimals, ROUND_CEILING)


def hours_down(seconds):
    return down(seconds / HOUR, 1)


def hours_up(seconds):
    return up(seconds / HOUR, 1)


def minute_down(instant):
    return instant and instant.replace(second=0, microsecond=0)


def minute_up(instant):
    early = minute_down(instant)
    return early if early == instant else early + timedelta(minutes=1)


def written(instant, zone):
    """An instant by the clock of the cooperative, or null."""
    return instant and instant.astimezone(zone).isoformat(timespec="seconds")


def _rounded(value, decimals, towards):
    """A plain number with so many decimals; null for none, NaN and infinity: JSON has no word for them."""
    if value is None or not math.isfinite(value):
        return None
    # The shortest decimal that gives the number: 0.29 is no 0.28999…, so it does not fall to 0.28.
    written = Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-decimals), towards)
    return float(written) + 0.0
