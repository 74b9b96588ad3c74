from dataclasses import replace

import pytest

from coop.engines.carton import capacity, load
from coop.engines.conduction_grid import carton_grid
from coop.engines.fish import Flesh
from coop.selectors.engine_inputs import carton_of
from coop.selectors.hold import hold_curves, packed_of
from coop.selectors.hold_weather import between
from coop.selectors.usable_cartons import cells_of, fault_of, fault_of_design, too_thin
from tests.engines.conduction_cases import common_carton
from tests.factories.cartons import CartonDesignFactory
from tests.factories.species import SpeciesFactory

COD = Flesh(0.803, 0.18, 0.006, 0.011)
"""Composition of cod as in the tests of the engines."""


def with_top(thickness):
    *others, _ = common_carton().insulation
    return replace(common_carton(), insulation=(*others, thickness))


def test_the_common_carton_has_no_fault():
    assert fault_of(common_carton(), COD, conductivity_cv=0.25) is None


@pytest.mark.parametrize(
    ("carton", "field"),
    [
        (with_top(0.004), "insulation_top_m"),
        (with_top(0.0), "insulation_top_m"),
        (replace(common_carton(), stowage_density=1000.0), "stowage_density_kg_m3"),
        (
            replace(common_carton(), insulation_conductivity=2.0, insulation_density=5.0),
            "insulation_conductivity_w_m_k",
        ),
    ],
)
def test_a_carton_in_which_fish_cannot_be_followed_is_named_by_what_is_wrong(carton, field):
    fault = fault_of(carton, COD, conductivity_cv=0.25)
    assert fault.field == field
    assert fault.right


def held(carton):
    packed = packed_of(
        carton, capacity(carton), COD, start_temperature_c=-18.0, conductivity_cv=0.25, limit=("core_c", -5.0)
    )
    around = between(17.0, 29.0, cloud_share=0.5, ride="roof", offset_c=0.0, closes_at_hour=16.0)
    return hold_curves(packed, around, confidence=0.95).limits[0]


def test_what_is_right_for_a_carton_that_is_too_dense_or_too_thin_is_right():
    dense = fault_of(replace(common_carton(), stowage_density=1000.0), COD, conductivity_cv=0.25)
    most = float(dense.right.split()[2])
    carton = replace(common_carton(), stowage_density=most)
    assert fault_of(carton, COD, conductivity_cv=0.25) is None
    assert held(carton).best_h > 0
    assert too_thin(with_top(0.005)) is None


def test_solid_frozen_fish_is_heavier_than_ice_and_lighter_than_water():
    fault = fault_of(replace(common_carton(), stowage_density=1000.0), COD, conductivity_cv=0.25)
    # kg/m³: most of it is ice, and the rest is heavier than water.
    assert 917 < float(fault.right.split()[2]) < 1000


def test_the_less_is_known_of_a_wall_the_less_it_may_conduct():
    light = replace(
        common_carton(), insulation=(0.02,) * 6, insulation_density=15.0, insulation_conductivity=2.0
    )
    sure, unsure = (fault_of(light, COD, conductivity_cv=cv) for cv in (0.02, 0.6))
    assert float(unsure.right.split()[2]) < float(sure.right.split()[2])


@pytest.mark.parametrize(
    "walls", [(0.1,) * 6, (0.08, 0.08, 0.1, 0.06, 0.1, 0.2), (0.3, 0.2, 0.02, 0.02, 0.1, 0.1)]
)
def test_the_cells_of_a_full_carton_are_about_as_many_as_its_grid_has(walls):
    carton = replace(common_carton(), insulation=walls)
    grid = carton_grid(carton=carton, load=load(carton, capacity(carton)))
    assert grid.volume.size <= cells_of(carton) <= 2 * grid.volume.size


@pytest.mark.django_db
def test_a_stored_design_is_named_by_its_short_name():
    design = CartonDesignFactory(slug="bare", insulation_left_m=0.001)
    fault = fault_of_design(design, SpeciesFactory())
    assert (fault.field, fault.value) == ("carton_design", "bare")
    assert "insulation_left_m" in fault.problem
    assert fault_of_design(CartonDesignFactory(), SpeciesFactory()) is None
    assert carton_of(design)
