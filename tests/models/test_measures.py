"""Every range and every list of words holds in the form and in the database, at the same values."""

import math
from pathlib import Path

import pytest
from django.core.exceptions import ValidationError

from coop.models import BillLine, Entry, Quote, Share, Stability, Supply
from coop.models.measures import Range, finite, money, number, ranges
from tests.models.refusals import change, checks, refused, stored, twin

FACES = {f"insulation_{face}_m": 0.01 for face in ("left", "right", "front", "back", "bottom", "top")}
THIN_WALLS = {**FACES, "board_thickness_m": 0.001}
LARGE = {"outer_length_m": 2.5, "outer_width_m": 2.5, "outer_height_m": 2.5}
# What other columns must be for the range of one to be the only rule that refuses, at both of its ends.
BESIDE = {
    "temperature_max_c": {"temperature_min_c": -60, "temperature_max_c": 0},
    "temperature_min_c": {"temperature_max_c": 60},
    "hours_mean": {"hours_floor": 0},
    "hours_floor": {"hours_mean": 200},
    "seats_per_carton": {"kind": "per_seat", "seats_per_carton": 1},
    "volumetric_divisor_cm3_per_kg": {
        "kind": "per_volumetric_kilogram",
        "volumetric_divisor_cm3_per_kg": 6000,
    },
    "surcharge_share": {"kind": "surcharge", "amount_minor": 0, "surcharge_share": 0.1},
    "sack_volume_m3": {"unit": "sack", "sack_volume_m3": 0.1},
    "sold_minor_per_kg": {"soft_minor_per_kg": 0},
    "soft_minor_per_kg": {"sold_minor_per_kg": 10**12},
    "expected_trips": {"returnable": True},
    "insulation_density_kg_m3": {"insulation_conductivity_w_m_k": 0.07},
    "limit_kind": {"limit_kind": "core_c", "limit_value": -9},
    "insulation_material": {"insulation_conductivity_w_m_k": 0.07},
    **dict.fromkeys(LARGE, THIN_WALLS),
    **{wall: {**THIN_WALLS, **LARGE} for wall in THIN_WALLS},
}
# At these ends a column crosses its neighbour before it leaves its range: either rule may refuse first.
CROSSING = {
    ("temperature_max_c", "low"): "maximum_not_below_minimum",
    ("temperature_min_c", "high"): "maximum_not_below_minimum",
    ("hours_mean", "low"): "leg_floor_below_mean",
    ("hours_floor", "high"): "leg_floor_below_mean",
    ("water_share", "low"): "species_shares_sum_to_one",
    ("water_share", "high"): "species_shares_sum_to_one",
    ("sold_minor_per_kg", "low"): "fish_price_soft_not_above_hard",
    ("soft_minor_per_kg", "high"): "fish_price_soft_not_above_hard",
    ("mass_kg", "high"): "part_fits_its_carton|part_within_its_lot|part_not_split_without_consent",
    ("mass_kg", "low"): "part_not_split_without_consent",
    ("soft_kg", "low"): "parcel_handed_over_says_how_it_was",
    ("soft_kg", "high"): "parcel_handed_over_says_how_it_was",
    ("received_minor", "low"): "parcel_paid_when_settled",
    ("received_minor", "high"): "parcel_paid_when_settled",
    ("gross_mass_kg", "low"): "carton_closed_with_its_facts",
    ("gross_mass_kg", "high"): "carton_closed_with_its_facts",
    ("core_temperature_c", "low"): "carton_closed_with_its_facts",
    ("core_temperature_c", "high"): "carton_closed_with_its_facts",
    ("chance_hard", "low"): "carton_closed_with_its_facts",
    ("chance_hard", "high"): "carton_closed_with_its_facts",
    ("estate_minor", "low"): "claim_shared_by_a_rule_or_not_yet",
    ("estate_minor", "high"): "claim_shared_by_a_rule_or_not_yet",
    ("awarded_minor", "high"): "claim_part_gets_at_most_what_it_claims",
    ("state", "known"): "parcel_goes_forward|quote_begins_issued",
    ("amount_minor", "low"): "entry_has_the_sign_of_its_kind",
    ("amount_minor", "high"): "entry_has_the_sign_of_its_kind",
    ("kind", "known"): "entry_has_the_sign_of_its_kind|entry_names_what_it_is_about",
}
# What is written once is tried with another row.
WRITTEN_ONCE = (BillLine, Entry, Quote, Share, Stability, Supply)


def write(row, **columns):
    (twin if isinstance(row, WRITTEN_ONCE) else change)(row, **columns)


def span_of(constraint):
    """(column, low, high) of a range, read from its condition."""
    (low_name, low), (_, high) = constraint.condition.children
    return low_name.removesuffix("__gte"), low, high


def just_beyond(model, column, value, way):
    is_float = model._meta.get_field(column).get_internal_type() == "FloatField"
    return math.nextafter(value, way * math.inf) if is_float else value + way


@pytest.mark.django_db
@pytest.mark.parametrize(("end", "way"), [("low", -1), ("high", 1)])
@pytest.mark.parametrize(("model", "constraint"), checks("_range"))
def test_the_database_keeps_every_column_in_its_range(model, constraint, end, way):
    row = stored(model)
    column, *ends = span_of(constraint)
    if column in BESIDE:
        change(row, **BESIDE[column])
    value = just_beyond(model, column, ends[end == "high"], way)
    with refused(f"{constraint.name}|{CROSSING.get((column, end), constraint.name)}"):
        write(row, **{column: value})


@pytest.mark.django_db
@pytest.mark.parametrize(("model", "constraint"), checks("_known"))
def test_the_database_keeps_every_word_to_its_list(model, constraint):
    [(lookup, _)] = constraint.condition.children
    column = lookup.removesuffix("__in")
    with refused(f"{constraint.name}|{CROSSING.get((column, 'known'), constraint.name)}"):
        write(stored(model), **{**BESIDE.get(column, {}), column: "?"})


@pytest.mark.parametrize(("model", "constraint"), checks("_range"))
def test_the_form_refuses_where_the_database_does_and_not_before(model, constraint):
    column, low, high = span_of(constraint)
    field = model._meta.get_field(column)
    for value in (low, high):
        field.run_validators(value)
    for value in (just_beyond(model, column, low, -1), just_beyond(model, column, high, 1), math.nan):
        with pytest.raises(ValidationError):
            field.run_validators(value)


@pytest.mark.parametrize(("model", "constraint"), checks())
def test_every_other_rule_of_the_database_is_tried_by_name(model, constraint):
    general = ("_range", "_known", "_read_names_its_source", "_ends_after_it_begins")
    tried = "".join(path.read_text(encoding="utf-8") for path in Path(__file__).parent.glob("test_*.py"))
    assert constraint.name.endswith(general) or f'"{constraint.name}"' in tried


def test_what_is_no_number_is_refused_though_it_passes_every_comparison():
    for value in (math.nan, math.inf, -math.inf):
        with pytest.raises(ValidationError, match="must be a number"):
            finite(value)
    finite(0.0)


def test_a_column_that_may_be_empty_may_be_blank_in_its_form():
    assert number("mass (kg)", Range(0, 1), null=True).blank
    assert not number("mass (kg)", Range(0, 1)).blank
    assert not money("price", "").blank


def test_a_range_becomes_a_check_that_carries_table_and_column():
    [check] = ranges("leg", distance_km=Range(1, 2))
    assert check.name == "leg_distance_km_range"
    assert check.condition.children == [("distance_km__gte", 1), ("distance_km__lte", 2)]
