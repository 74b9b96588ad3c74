"""What fish loses in the freezer: the table of Love, the ranges of the IIR, and plain sums."""

from fractions import Fraction

import numpy as np
import pytest

from coop.engines.storage import DAY, MONTH, keeping_cost, life_used, quality_loss, storage_life

LEAN, FATTY = 0.006, 0.09
LOVE_1967 = [(-9, LEAN, 1), (-21, LEAN, 4), (-29, LEAN, 8), (-9, FATTY, 1), (-21, FATTY, 3), (-29, FATTY, 6)]
"""°C, fat, months "good" of gutted white fish and gutted herring; Love 1967, Tímarit Verkfræðingafélags
Íslands 52, "The storage life of fish products at various temperatures as estimated by subjective tests"."""


@pytest.mark.parametrize(("temperature", "fat", "months"), LOVE_1967)
def test_fish_keeps_as_love_has_it(temperature, fat, months):
    assert storage_life(temperature, fat=fat) / MONTH == pytest.approx(months, rel=1e-12)


IIR = [(-18, LEAN, 3, 5), (-25, LEAN, 6, 8), (-18, FATTY, 2, 3), (-25, FATTY, 3, 5)]
"""°C, fat, months from and to: figures of the IIR's Recommended conditions for cold storage of perishable
foodstuffs, printed in the same table of Love 1967; none of them went into the engine."""


@pytest.mark.parametrize(("temperature", "fat", "least", "most"), IIR)
def test_between_the_temperatures_of_love_fish_keeps_as_the_iir_recommends(temperature, fat, least, most):
    """Whole months: half of one is granted below, and nothing above, where it would be hopeful."""
    assert least - 0.5 <= storage_life(temperature, fat=fat) / MONTH <= most


def test_colder_never_keeps_for_less_and_fat_never_for_longer():
    temperatures = np.linspace(-60, -9, 200)
    lean, fatty = (storage_life(temperatures, fat=fat) for fat in (LEAN, FATTY))
    assert np.all(np.diff(lean) <= 0)
    assert np.all(np.diff(fatty) <= 0)
    assert np.all(fatty <= lean)


def test_beyond_the_coldest_that_was_tried_nothing_more_is_promised():
    assert storage_life(-45.0, fat=LEAN) == storage_life(-29.0, fat=LEAN)


def test_shares_of_the_life_add_up():
    week = life_used(7 * DAY, temperature=-18.0, fat=FATTY)
    days = life_used(DAY, temperature=-18.0, fat=FATTY)
    assert week == pytest.approx(7 * days)
    assert life_used(0.0, temperature=-18.0, fat=FATTY) == 0
    assert life_used(storage_life(-18.0, fat=FATTY), temperature=-18.0, fat=FATTY) == 1


def test_a_quarter_of_its_life_takes_a_quarter_of_the_drop_and_never_more_than_all():
    assert quality_loss(0.25, price_drop=400) == 100
    assert quality_loss(0.0, price_drop=400) == 0
    assert quality_loss(3.0, price_drop=400) == 400
    assert quality_loss(0.1, price_drop=1) == Fraction(1, 10)


def test_100_watts_for_240_kilograms_at_250_ngwee_cost_2_and_a_half_a_day():
    """2.4 kWh × 250 / 240 kg."""
    assert keeping_cost(standing=100, holds=240, price=250) == Fraction(5, 2)


def test_twice_the_fish_shares_half_the_power():
    one, two = (keeping_cost(standing=90, holds=holds, price=260) for holds in (100, 200))
    assert one == 2 * two


def test_an_array_equals_its_scalars():
    temperatures, fats = np.array([-30.0, -20.0, -10.0]), np.array([0.01, 0.03, 0.2])
    together = storage_life(temperatures, fat=fats)
    one_by_one = [storage_life(t, fat=fat) for t, fat in zip(temperatures, fats, strict=True)]
    np.testing.assert_array_equal(together, one_by_one)
    used = life_used(np.array([DAY, 2 * DAY]), temperature=-20.0, fat=LEAN)
    np.testing.assert_array_equal(
        used, [life_used(time, temperature=-20.0, fat=LEAN) for time in (DAY, 2 * DAY)]
    )


@pytest.mark.parametrize(
    ("asked", "named"),
    [
        (lambda: storage_life(-8.0, fat=LEAN), "temperature must be between -60 and -9 °C, not -8.0"),
        (lambda: storage_life(np.nan, fat=LEAN), "temperature .* not nan"),
        (lambda: storage_life(-18.0, fat=1.5), "fat .* not 1.5"),
        (lambda: life_used(-1.0, temperature=-18.0, fat=LEAN), "duration .* not -1.0"),
        (lambda: life_used(np.inf, temperature=-18.0, fat=LEAN), "duration .* not inf"),
        (lambda: quality_loss(-0.1, price_drop=10), "share must be 0 or more"),
        (lambda: quality_loss(np.nan, price_drop=10), "share must be a finite number"),
        (lambda: quality_loss(0.1, price_drop=1.5), "price_drop must be whole"),
        (lambda: keeping_cost(standing=-1, holds=1, price=1), "standing must be 0 or more"),
        (lambda: keeping_cost(standing=1, holds=0, price=1), "holds must be positive"),
        (lambda: keeping_cost(standing=1, holds=1, price=-1), "price must be whole"),
    ],
)
def test_what_cannot_be_is_refused(asked, named):
    with pytest.raises(ValueError, match=named):
        asked()
