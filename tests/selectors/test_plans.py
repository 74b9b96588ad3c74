"""A proposal: waiting lots in cartons that are safe as filled, billed exactly, and why the rest stays."""

from datetime import UTC, datetime, timedelta

import pytest

from coop.selectors.parcel_judgement import ParcelJudge
from coop.selectors.plans import Planning, propose
from coop.selectors.plans_proposal import kept
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.parcels import DEPARTS_AT, ParcelCartonFactory, lot_of, parcel_of
from tests.factories.scene import trade
from tests.factories.separations import SeparationFactory
from tests.factories.species import SpeciesFactory
from tests.selectors.asking import MONDAY
from tests.selectors.shared_carton import SHORT_WAY

pytestmark = pytest.mark.django_db

NOW = datetime(2026, 3, 2, 6, tzinfo=UTC)


@pytest.fixture
def shore():
    return trade(CooperativeFactory(), leg=SHORT_WAY)


def planning(shore, *, days=1, now=NOW):
    last = MONDAY + timedelta(days=days - 1)
    return Planning(shore.cooperative, shore.route, shore.buyer, MONDAY, last, now)


def proposal(shore, **terms):
    asked = planning(shore, **terms)
    return kept(asked, propose(asked))


def reasons(found):
    return {row["lot"]: row["code"] for row in found.proposal["left_behind"]}


def test_three_lots_of_20_35_and_45_kg_share_one_carton(shore):
    for mass in (20.0, 35.0, 45.0):
        lot_of(shore, mass_kg=mass)
    found = proposal(shore)
    [carton] = found.proposal["cartons"]
    assert [part["mass_kg"] for part in carton["parts"]] == [45.0, 35.0, 20.0]
    assert carton["mass_kg"] == found.proposal["mass_kg"] == 100.0
    assert carton["cost_minor"] == found.cost_minor
    assert carton["chance_hard"] >= 0.95
    assert found.proposal["left_behind"] == []
    assert 0 <= found.bound_minor <= found.cost_minor
    assert 0 <= found.gap <= 0.02


def test_costs_of_the_cartons_sum_to_the_cost_of_the_plan(shore):
    for _ in range(5):
        lot_of(shore, mass_kg=41.3)
    found = proposal(shore, days=2)
    assert len(found.proposal["cartons"]) == 3
    assert sum(carton["cost_minor"] for carton in found.proposal["cartons"]) == found.cost_minor
    placed = [part["lot"] for carton in found.proposal["cartons"] for part in carton["parts"]]
    assert len(placed) == len(set(placed)) == 5


def test_nothing_waits_and_nothing_is_proposed(shore):
    found = proposal(shore)
    assert found.proposal == {"cartons": [], "left_behind": [], "mass_kg": 0}
    assert (found.cost_minor, found.bound_minor, found.gap) == (0, 0, 0.0)


def test_each_lot_that_stays_has_its_true_reason(shore):
    heavy = lot_of(shore, mass_kg=150.0)
    late = lot_of(shore, mass_kg=40.0, ready_at=DEPARTS_AT)
    hurried = lot_of(shore, mass_kg=40.0, deliver_by=DEPARTS_AT + timedelta(minutes=30))
    warm = lot_of(shore, mass_kg=40.0, start_temperature_c=-2.6)
    goes = lot_of(shore, mass_kg=60.0)
    found = proposal(shore)
    assert reasons(found) == {
        str(heavy.uuid): "too_heavy",
        str(late.uuid): "not_ready",
        str(hurried.uuid): "misses_deadline",
        str(warm.uuid): "not_safe",
    }
    [carton] = found.proposal["cartons"]
    assert [part["lot"] for part in carton["parts"]] == [str(goes.uuid)]
    values = {row["code"]: row["values"] for row in found.proposal["left_behind"]}
    # 14:00 in Greenwich is 16:00 in Lusaka, and it is closed forty minutes before.
    assert values["not_ready"] == {
        "ready_at": "2026-03-02T16:00:00+02:00",
        "last_closing": "2026-03-02T15:20:00+02:00",
    }
    # 0.79 × 0.49 × 0.49 m within the walls, 530 kg of fish a cubic metre, to the tenth.
    assert values["too_heavy"] == {"mass_kg": 150.0, "most_kg": 100.5}


def test_a_heavy_lot_goes_in_two_cartons_where_its_owner_lets_it_be_split(shore):
    lot_of(shore, mass_kg=150.0, may_be_split=True)
    found = proposal(shore)
    assert len(found.proposal["cartons"]) == 2
    assert found.proposal["mass_kg"] == 150.0


def test_a_lot_below_every_filling_that_is_tried_goes_where_it_stays_hard_by_itself(shore):
    lot = lot_of(shore, mass_kg=17.3)
    [carton] = proposal(shore).proposal["cartons"]
    assert [part["lot"] for part in carton["parts"]] == [str(lot.uuid)]


def test_places_that_are_taken_are_not_planned_with(shore):
    parcel = parcel_of(shore)
    for position in range(2, shore.carrier.carton_places + 1):
        ParcelCartonFactory(parcel=parcel, position=position)
    lot = lot_of(shore, mass_kg=60.0)
    assert reasons(proposal(shore)) == {str(lot.uuid): "no_room"}
    [carton] = proposal(shore, days=2).proposal["cartons"]
    assert carton["date"] == "2026-03-03"


def test_a_departure_that_can_no_longer_be_closed_for_is_not_planned_with(shore):
    lot_of(shore, mass_kg=60.0)
    [carton] = proposal(shore, days=2, now=DEPARTS_AT).proposal["cartons"]
    assert carton["date"] == "2026-03-03"


def test_species_that_are_kept_apart_lie_in_different_cartons(shore):
    other = SpeciesFactory(code="LTM")
    SeparationFactory(cooperative=shore.cooperative, one=shore.species, other=other)
    lot_of(shore, mass_kg=45.0)
    lot_of(shore, mass_kg=45.0, species=other)
    assert len(proposal(shore).proposal["cartons"]) == 2


def test_a_carton_that_is_not_safe_as_it_is_filled_is_filled_more_or_left_out(shore, monkeypatch):
    judged = ParcelJudge.judged

    def stricter(self, parcel, fill, **terms):
        """Below 70 kg nothing is safe, which the first plan does not know."""
        found = judged(self, parcel, fill, **terms)
        return found if fill.mass_kg >= 70.0 else type(found)(fill, "hold_too_short", 0.5, None)

    monkeypatch.setattr(ParcelJudge, "judged", stricter)
    lot = lot_of(shore, mass_kg=60.0)
    found = proposal(shore)
    assert found.proposal["cartons"] == []
    assert str(lot.uuid) in reasons(found)
    for _ in range(3):
        lot_of(shore, mass_kg=35.0)
    for carton in proposal(shore).proposal["cartons"]:
        assert carton["mass_kg"] >= 70.0


def test_what_it_rests_on_moves_with_lots_places_and_prices_alone(shore):
    lot_of(shore, mass_kg=60.0)
    first = planning(shore).rests_on
    assert planning(shore, now=NOW + timedelta(hours=3)).rests_on == first
    trade(CooperativeFactory())
    assert planning(shore).rests_on == first
    seen = {first}
    for change in (
        lambda: lot_of(shore, mass_kg=10.0),
        lambda: parcel_of(shore),
        lambda: shore.tariff.rules.update(amount_minor=31_000),
        lambda: shore.design.materials.first().material.prices.update(amount_minor=1),
        lambda: shore.fish_price.delete(),
    ):
        change()
        seen.add(planning(shore).rests_on)
    assert len(seen) == 6
