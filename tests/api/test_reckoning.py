"""What a phone is told so that it can work a departure out again."""

import pytest

from api.reckoning import ReckoningOut
from tests.api.asked import fields_of, name_of
from tests.api.test_openapi import differences
from tests.factories.species import SpeciesFactory

PER_NODE = ("hold_min", "log_odds", "latest_min", "softened")


@pytest.fixture
def told(ask, ours_trading):
    """Asks for the reckoning of the Monday's departure."""

    def get(status=200, name=None, **changes):
        asked = {"species": ours_trading.species.code} | changes
        found, answer = ask(f"departures/{name or name_of(ours_trading)}/reckoning/", **asked)
        assert found == status, answer
        return answer

    get.trade = ours_trading
    return get


def test_an_answer_has_what_is_described_with_whole_numbers_for_each_node(told):
    answer = told()
    assert differences(ReckoningOut(), answer) == []
    grid = answer["grid"]
    count = len(grid["mass_kg"]) * len(grid["start_c"])
    assert {len(grid[name]) for name in PER_NODE} == {count}
    assert all(isinstance(figure, int) for name in PER_NODE for figure in grid[name])
    assert grid["mass_kg"] == sorted(grid["mass_kg"])
    assert grid["start_c"] == sorted(grid["start_c"])
    assert answer["cost_missing"] == []


def test_a_carton_that_misses_the_departure_has_no_grid_but_a_price(told):
    answer = told(closes_at="2026-03-02T15:50:00+02:00")
    assert answer["grid"] is None
    assert answer["bill"]["lines"]


def test_without_a_fare_it_says_so(told):
    told.trade.tariff.delete()
    answer = told(closes_at="2026-03-02T15:50:00+02:00")
    assert answer["bill"]["lines"] == []
    assert answer["cost_missing"][0].startswith("fare of")


def test_an_unknown_departure_species_or_parameter_is_refused(told):
    assert told(404, name="9-20260302-common")["error"]["code"] == "not_found"
    assert fields_of(told(400, species="XXX")) == [("species", "XXX")]
    assert fields_of(told(400, mass_kg="80")) == [("mass_kg", "80")]


def test_fish_whose_kind_is_another_is_another_question(told):
    other = SpeciesFactory(code="TLP")
    assert told(species=other.code, closes_at="2026-03-02T15:50:00+02:00")["id"] == name_of(told.trade)
