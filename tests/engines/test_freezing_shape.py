"""How the shape of fish tells on its freezing, against Plank's factors and finite volumes."""

import numpy as np
import pytest

from coop.engines import freezing_shape
from coop.engines.freezing_shape import Body, dimensions, plank_brick
from tests.engines.freezing_oracle import brick_time_to, times_to

INF = np.inf


@pytest.mark.parametrize(
    ("length", "width", "p", "r"), [(1.5, 1.2, 0.2000, 0.0551), (2.0, 2.0, 0.2500, 0.0716)]
)
def test_planks_factors_of_a_brick_are_those_of_the_reference(length, width, p, r):
    """Worked out for the reference of this project, § 3, to four figures."""
    assert plank_brick(width_ratio=width, length_ratio=length) == pytest.approx((p, r), abs=5e-5)


def test_planks_brick_ends_at_his_sphere_and_his_slab():
    """Plank 1913: a cube has the factors of a sphere, a brick without end those of a slab."""
    nearly = plank_brick(width_ratio=1, length_ratio=1 + 1e-7)
    assert nearly == pytest.approx(freezing_shape.PLANK_SPHERE, rel=1e-4)
    wide = plank_brick(width_ratio=1e4, length_ratio=1e4)
    assert wide == pytest.approx(freezing_shape.PLANK_SLAB, rel=1e-3)


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        (Body("slab", 0.1), 1),
        (Body("brick", 0.1, 2, 4), 1 + 1 / 2 + 1 / 4),
        (Body("brick", 0.1), 1),
        (Body("cylinder", 0.1), 2),
        (Body("cylinder", 0.1, length_ratio=4), 2 + 1 / 4),
        (Body("ellipsoid", 0.1, 1, 1), 3),
        (Body("ellipsoid", 0.1, 1), 2),
    ],
)
def test_behind_a_poor_film_surface_over_volume_alone_decides(body, expected):
    """Half thickness × surface / volume, of geometry."""
    assert dimensions(body, biot=1e-9) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("film", [10.0, 40.0])
@pytest.mark.parametrize("ratios", [(1.0, 1.0), (1.5, 2.0)])
def test_a_brick_counts_as_finite_volumes_say_within_11_per_cent(film, ratios):
    """Cleland, Cleland & Earle 1987 say ±10 % of the time; the grid of 6 cells adds a hundredth."""
    fish = {"half": 0.05, "film": film, "air": -30.0, "initial": 15.0}
    (slab,) = times_to([-10.0], dimensions=1, **fish)
    counted = slab / brick_time_to(-10.0, ratios=ratios, **fish)
    said = dimensions(Body("brick", 0.1, *ratios), biot=film * 0.05 / 1.4)
    assert said == pytest.approx(counted, rel=0.11)


@pytest.mark.parametrize("biot", [0.01, 0.3, 1.0, 4.0, 100.0])
@pytest.mark.parametrize("ratios", [(1.0, 1.0), (1.0, 3.0), (2.0, 5.0), (4.0, INF)])
def test_a_fish_freezes_no_slower_than_the_brick_around_it_and_no_faster_than_a_sphere(biot, ratios):
    brick, fish = (dimensions(Body(shape, 0.1, *ratios), biot=biot) for shape in ("brick", "ellipsoid"))
    assert 1 <= brick <= fish + 1e-12 <= 3 + 1e-9


@pytest.mark.parametrize("shape", ["brick", "cylinder", "ellipsoid"])
def test_wider_and_longer_never_counts_for_more(shape):
    ratios = [1.0, 1.5, 2.0, 4.0, 10.0, INF]
    counted = [dimensions(Body(shape, 0.1, 1.0, ratio), biot=0.7) for ratio in ratios]
    assert counted == sorted(counted, reverse=True)
    assert dimensions(Body(shape, 0.1, 1.0), biot=0.7) == counted[-1]


def test_an_array_equals_its_scalars():
    biots = np.array([0.1, 1.0, 10.0])
    for shape in freezing_shape.SHAPES:
        body = Body(shape, 0.1, 1.0, 3.0)
        together = dimensions(body, biot=biots)
        np.testing.assert_array_equal(together, [dimensions(body, biot=one) for one in biots])
    lengths = np.array([1.5, 2.0])
    p, r = plank_brick(width_ratio=1.2, length_ratio=lengths)
    assert list(zip(p, r, strict=True)) == [plank_brick(width_ratio=1.2, length_ratio=x) for x in lengths]


@pytest.mark.parametrize(
    ("body", "biot", "named"),
    [
        (Body("heap", 0.1), 1, "body.shape must be one of slab, brick, cylinder, ellipsoid, not 'heap'"),
        (Body("slab", 0.0), 1, "body.thickness must be above 0 m, not 0.0"),
        (Body("slab", INF), 1, "body.thickness .* not inf"),
        (Body("slab", 0.1), 0, "biot .* not 0"),
        (Body("brick", 0.1, 0.5), 1, "width_ratio must be 1 or more, not 0.5"),
        (Body("brick", 0.1, 2, 1), 1, "length_ratio .* not 1"),
        (Body("brick", 0.1, np.nan, 1), 1, "width_ratio .* not nan"),
        (Body("ellipsoid", 0.1, 1, np.nan), 1, "length_ratio .* not nan"),
        (Body("cylinder", 0.1, length_ratio=0.9), 1, "length_ratio .* not 0.9"),
        (Body("ellipsoid", 0.1, 1, 1), np.nan, "biot .* not nan"),
    ],
)
def test_what_cannot_be_is_refused(body, biot, named):
    with pytest.raises(ValueError, match=named):
        dimensions(body, biot=biot)


@pytest.mark.parametrize(("width", "length"), [(1, 1), (1, INF), (0.5, 2), (3, 2)])
def test_planks_brick_without_an_answer_is_refused(width, length):
    with pytest.raises(ValueError, match="ratio must be"):
        plank_brick(width_ratio=width, length_ratio=length)
