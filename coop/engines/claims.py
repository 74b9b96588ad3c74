"""Sharing what does not suffice: a short payment or a claim, among those who are owed more than there is."""

import numpy as np

from coop.engines.coalitions import ROUND_OFF
from coop.engines.cost_sharing import MOST_LOTS, capped
from coop.engines.lognormal import require


def proportional(claims, *, estate):
    """Awards in proportion to the claims.

    claims   (n,)     minor units   what each is owed, ≥ 0
    estate   number   minor units   what there is, 0 to the sum of the claims

    Returns (n,) minor units; they sum to the estate.
    Raises ValueError for a claim that is negative or not finite, or an estate that is out of range.
    Source: No source: definition; common practice.
    """
    claims, estate = _checked(claims, estate)
    total = claims.sum()
    return claims * (estate / total) if total else claims


def equal_awards(claims, *, estate):
    """Awards that are all the same, but nobody's above the claim.

    claims   (n,)     minor units   what each is owed, ≥ 0
    estate   number   minor units   what there is, 0 to the sum of the claims

    Returns (n,) minor units; they sum to the estate.
    Raises ValueError as proportional.
    Source: Thomson 2003, Axiomatic and game-theoretic analysis of bankruptcy, Math. Soc. Sci. 45:249:
        constrained equal awards.
    """
    claims, estate = _checked(claims, estate)
    return _equal_awards(claims, estate)


def equal_losses(claims, *, estate):
    """Awards by which all lose the same, but nobody more than the claim.

    claims   (n,)     minor units   what each is owed, ≥ 0
    estate   number   minor units   what there is, 0 to the sum of the claims

    Returns (n,) minor units; they sum to the estate.
    Raises ValueError as proportional.
    Source: Thomson 2003, Axiomatic and game-theoretic analysis of bankruptcy, Math. Soc. Sci. 45:249:
        constrained equal losses.
    """
    claims, estate = _checked(claims, estate)
    return claims - _equal_awards(claims, claims.sum() - estate)


def contested(claims, *, estate):
    """Awards by which any two divide what they get together as the contested garment is divided.

    claims   (n,)     minor units   what each is owed, ≥ 0
    estate   number   minor units   what there is, 0 to the sum of the claims

    Returns (n,) minor units; they sum to the estate and are the nucleolus of the bankruptcy game.
    Raises ValueError as proportional.
    Source: Aumann & Maschler 1985, Game theoretic analysis of a bankruptcy problem from the Talmud,
        J. Econ. Theory 36:195: equal awards of half the claims, and beyond half equal losses.
    """
    claims, estate = _checked(claims, estate)
    missing = claims.sum() - estate
    if estate <= missing:
        return _equal_awards(claims / 2, estate)
    return claims - _equal_awards(claims / 2, missing)


def _equal_awards(claims, estate):
    return capped(np.ones(claims.size), bill=min(estate, claims.sum()), alone=claims).shares


def _checked(claims, estate):
    claims, estate = np.asarray(claims, float), np.asarray(estate, float)
    if claims.ndim != 1 or not 1 <= claims.size <= MOST_LOTS:
        raise ValueError(f"claims must be 1 to {MOST_LOTS}, not of shape {claims.shape}")
    require("claims", claims, (claims >= 0) & np.isfinite(claims), "0 or more")
    total = claims.sum()
    # Claims that were themselves shared may sum to the estate but for round-off.
    is_right = (estate >= 0) & (estate <= total * (1 + ROUND_OFF))
    require("estate", estate, is_right, f"0 to {total}, the sum of the claims")
    return claims, float(min(estate, total))
