"""Shares become money: whole minor units, in whole coins as far as the bill allows, that sum to the bill."""

import math
from fractions import Fraction

from coop.engines.money import exact, whole

TIE = Fraction(1, 10**6)
"""Of a minor unit: remainders that differ by less are equal, since shares may carry round-off."""
MOST_SHARE = 10**18


def largest_remainder(shares, *, total, coin=1, at_most=None):
    """What each pays: shares scaled to the bill, rounded down; coins left go to the largest remainders.

    shares    (n,)   any           proportions, or shares in minor units; any sign, their sum above 0
    total     int    minor units   the bill, ≥ 0
    coin      int    minor units   the smallest coin in use, ≥ 1
    at_most   (n,)   minor units   int or inf, which no part may exceed, or None; together at least the bill

    Returns tuple of int minor units that sum to the bill. Equal remainders: the first comes first. What no
        coin can pay (a bill that is no multiple of the coin, or parts less than a coin below at_most) is not
        lost: it is added in minor units to who then misses most, to one part only where no limit binds.
    Raises ValueError for no shares, one that is not finite, a sum that is not above 0, or a value that is out
        of range.
    Source: Balinski & Young 2001, Fair Representation, Hamilton's method (from memory); at_most: house rule.
    """
    total, coin = whole("total", total), whole("coin", coin, least=1)
    quotas = _quotas(shares, total)
    limits = _limits(at_most, quotas, total)
    parts = [min(quota // coin * coin, limit) for quota, limit in zip(quotas, limits, strict=True)]
    left = total - sum(parts)
    while left >= coin and any(limit - part >= coin for limit, part in zip(limits, parts, strict=True)):
        left = _hand_out(parts, left, quotas=quotas, limits=limits, coin=coin)
    left = _hand_out(parts, left, quotas=quotas, limits=limits)
    return tuple(int(part) for part in parts)


def _hand_out(parts, left, *, quotas, limits, coin=None):
    """Add to the parts, those that miss most of their quota first: one coin each, or all that fits."""
    for i in sorted(range(len(parts)), key=lambda i: -round((quotas[i] - parts[i]) / TIE)):
        room = min(left, limits[i] - parts[i])
        more = room if coin is None else coin * (room >= coin)
        parts[i] += more
        left -= more
    return left


def _quotas(shares, total):
    shares = [exact("shares", share, least=-MOST_SHARE, most=MOST_SHARE) for share in shares]
    if not shares:
        raise ValueError("shares must be of one player or more, not of none")
    if not total:
        return [Fraction(0)] * len(shares)
    asked = sum(shares)
    if asked <= 0:
        raise ValueError(f"shares must sum to more than 0, not to {float(asked)}")
    return [share * total / asked for share in shares]


def _limits(at_most, quotas, total):
    if at_most is None:
        return [math.inf] * len(quotas)
    limits = [most if most == math.inf else whole("at_most", most) for most in at_most]
    if len(limits) != len(quotas):
        raise ValueError(f"at_most must be of {len(quotas)} players, not of {len(limits)}")
    if sum(limits) < total:
        raise ValueError(f"at_most must sum to {total} or more, not to {sum(limits)}")
    return limits
