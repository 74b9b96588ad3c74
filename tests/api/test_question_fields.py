from datetime import UTC, datetime

import pytest
from rest_framework.exceptions import ValidationError

from api.cost_question import ConsignmentQuestion
from api.departure_in_full import CARRIES
from api.hold_question import CARTON, SIZES, HoldQuestion
from api.question_fields import LIMITS, Closing, Day, Instant, Limit, Note, chosen, named, require_hard
from coop.engines.ambient import Carries
from coop.errors import Invalid
from coop.models import buyer_limits, cartons, terms
from coop.selectors.hold_weather import STANDS_IN
from tests.factories.routes import RouteFactory

NOON = datetime(2026, 3, 2, 10, tzinfo=UTC)


def test_limits_are_those_that_are_stored():
    assert set(LIMITS) == set(buyer_limits.LimitKind.values)
    assert LIMITS["softened_share"] == buyer_limits.SOFTENED_LIMIT
    assert {LIMITS[kind] for kind in LIMITS if kind.endswith("_c")} == {buyer_limits.TEMPERATURE_LIMIT}


@pytest.mark.parametrize(
    ("name", "span"),
    [
        ("outer_length_m", cartons.OUTER),
        ("insulation_density_kg_m3", cartons.DENSITY),
        ("insulation_conductivity_w_m_k", cartons.CONDUCTIVITY),
        ("insulation_specific_heat_j_kg_k", cartons.SPECIFIC_HEAT),
        ("stowage_density_kg_m3", cartons.STOWAGE),
        ("board_thickness_m", cartons.THICKNESS),
        ("board_conductivity_w_m_k", cartons.CONDUCTIVITY),
        ("conductivity_cv", cartons.CONDUCTIVITY_CV),
        ("confidence", terms.CONFIDENCE),
    ],
)
def test_bounds_of_a_size_are_those_that_are_stored(name, span):
    field = HoldQuestion().fields[name]
    assert (field.min_value, field.max_value) == span


def test_every_size_is_a_column_of_a_design_or_all_of_its_walls():
    columns = {field.name for field in cartons.CartonDesign._meta.get_fields()}
    assert set(CARTON) - columns == {"insulation_m"}
    assert set(SIZES) < set(CARTON)


def test_a_carton_rides_and_stands_where_the_engines_know_it():
    assert set(HoldQuestion().fields["ride"].choices) == set(STANDS_IN)
    assert set(CARRIES) == {one.name for one in Carries}


@pytest.mark.parametrize(
    ("text", "instant"),
    [
        ("2026-03-02T12:00:00+02:00", NOON),
        ("2026-03-02T10:00Z", NOON),
        ("2026-03-02 10:00:00.000+00:00", NOON),
    ],
)
def test_an_instant_is_read_with_its_offset(text, instant):
    assert Instant().run_validation(text) == instant
    assert Closing().run_validation(text) == instant


@pytest.mark.parametrize(
    "text", ["2026-03-02T12:00:00", "2026-03-02", "noon", "1999-12-31T00:00Z", "late", "1e9"]
)
def test_what_is_no_instant_is_refused(text):
    with pytest.raises(ValidationError):
        Instant().run_validation(text)


def test_as_late_as_can_be_is_no_instant_of_its_own():
    assert Closing().run_validation("late") is None


def test_a_limit_is_read_as_kind_and_value():
    assert Limit().run_validation("core_c:-5") == ("core_c", -5.0)
    for text in ("core_c:-41", "core_c", "core_c:", ":-5", "warmth:-5", "softened_share:0", "core_c:nan"):
        with pytest.raises(ValidationError):
            Limit().run_validation(text)


def test_a_day_is_of_this_century():
    assert Day().run_validation("2026-03-02").isoformat() == "2026-03-02"
    for text in ("1999-12-31", "2101-01-01", "26-03-02", "2026-3-2T00:00"):
        with pytest.raises(ValidationError):
            Day().run_validation(text)


@pytest.mark.django_db
def test_a_word_names_one_of_the_rows_or_is_refused_with_those_there_are():
    rows = [RouteFactory(slug="south"), RouteFactory(slug="west")]
    assert chosen(rows, "route", "west") == rows[1]
    with pytest.raises(Invalid) as failure:
        chosen(rows, "route", "north")
    assert failure.value.problems[0].right == "one of south, west"


def test_many_names_are_cut_short_and_none_is_said():
    assert named(str(number) for number in range(100)).endswith("28, 29, …")
    assert named([]) == "nothing yet: none is stored"


def test_fish_is_hard_below_the_temperature_at_which_it_softens():
    require_hard(-2.26, -2.25)
    with pytest.raises(Invalid) as failure:
        require_hard(-2.25, -2.25)
    assert failure.value.problems[0].right == "colder than -2.3 °C: freeze it first"


def test_a_cost_asks_for_no_temperature():
    assert not ConsignmentQuestion().fields["start_temperature_c"].required


@pytest.mark.parametrize(("note", "text", "read"), [(Note(), "", ""), (Note(wanted="why"), "torn", "torn")])
def test_a_note_may_be_left_out_unless_it_is_wanted(note, text, read):
    assert note.run_validation(text) == read


@pytest.mark.parametrize(("note", "text"), [(Note(wanted="why"), ""), (Note(), "x" * 501)])
def test_a_note_that_is_missing_or_too_long_is_refused(note, text):
    with pytest.raises(ValidationError):
        note.run_validation(text)
