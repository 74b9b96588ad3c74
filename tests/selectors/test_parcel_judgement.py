"""A carton of a parcel is judged like the same carton on the page of departures, with the worst in it."""

from dataclasses import replace
from datetime import timedelta

import pytest

from coop.models import Part
from coop.selectors.departures import departures_for
from coop.selectors.parcel_judgement import WORDS, Judged, ParcelJudge, fill_of, judged_cartons, local_day
from coop.selectors.parcels import parcels_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.parcels import DEPARTS_AT, PartFactory, lot_of, parcel_of
from tests.factories.scene import another_vehicle, trade
from tests.factories.species import SpeciesFactory
from tests.selectors.asking import question
from tests.selectors.queries import questions
from tests.services.packing_day import LONG_LEG

pytestmark = pytest.mark.django_db


@pytest.fixture
def way():
    """A day's journey with two vehicles, and a parcel of 80 kg with the first."""
    found = trade(CooperativeFactory(), leg=LONG_LEG)
    another_vehicle(found, 9)
    row = parcel_of(found)
    PartFactory(carton=row.cartons.get(), lot=lot_of(found, mass_kg=80.0))
    found.parcel = parcels_of(found.cooperative).get()
    return found


@pytest.fixture
def judge(way):
    """Judged of the parcel's carton with another filling."""
    [carton] = way.parcel.cartons.all()
    fill, found = fill_of(carton.parts.all()), ParcelJudge([way.parcel])
    return lambda closes_at=None, **changes: found.judged(
        way.parcel, replace(fill, **changes), closes_at=closes_at
    )


def departure_of(way, **changes):
    return next(
        one for one in departures_for(question(way, **changes)) if one.slot.timetable.pk == way.timetable.pk
    )


@pytest.mark.parametrize("mass_kg", [40.0, 80.0])
@pytest.mark.parametrize("hours_early", [0, 10])
def test_it_says_what_the_page_of_departures_says_of_the_same_carton(way, judge, mass_kg, hours_early):
    closes_at = DEPARTS_AT - timedelta(hours=hours_early) if hours_early else None
    page = departure_of(way, mass_kg=mass_kg, closes_at=closes_at)
    judged = judge(mass_kg=mass_kg, closes_at=closes_at)
    assert judged.departure.judgement == page.judgement
    assert (judged.reason, judged.chance_hard) == (page.judgement.reason, page.judgement.chance_hard)
    assert judged.latest_safe_departure_at == page.latest_safe_departure
    assert judged.departure.key == page.key


def test_a_carton_with_less_fish_is_less_likely_hard(judge):
    chances = [judge(mass_kg=mass).chance_hard for mass in (10.0, 20.0, 40.0, 60.0, 80.0)]
    assert chances == sorted(chances)
    assert chances[0] < 0.1 < 0.9 < chances[-1]


def test_a_mix_fares_as_its_worst_species_does(way, judge):
    salty = SpeciesFactory(freezing_point_c=-3.0)
    alone = [judge(species=(species,)) for species in (way.species, salty)]
    for pair in ((way.species, salty), (salty, way.species)):
        mixed = judge(species=pair)
        assert mixed.chance_hard == min(one.chance_hard for one in alone)
        assert mixed.question.species == salty
        assert mixed.reason == alone[1].reason


def test_the_last_safe_hour_of_a_mix_is_that_of_its_worst_species(way, judge):
    fat = SpeciesFactory(water_share=0.70, fat_share=0.11)
    alone = [
        judge(species=(species,), mass_kg=100.0, start_temperature_c=-28.0) for species in (way.species, fat)
    ]
    mixed = judge(species=(way.species, fat), mass_kg=100.0, start_temperature_c=-28.0)
    assert all(one.is_safe for one in alone)
    assert mixed.latest_safe_departure_at == min(one.latest_safe_departure_at for one in alone)


def test_a_filling_is_as_warm_as_its_warmest_fish_and_as_hurried_as_its_most_hurried(way):
    lots = [
        lot_of(way, start_temperature_c=-20.0, mass_kg=0.1),
        lot_of(way, start_temperature_c=-12.0, mass_kg=0.2, deliver_by=DEPARTS_AT + timedelta(days=3)),
        lot_of(way, deliver_by=DEPARTS_AT + timedelta(days=2), species=SpeciesFactory()),
    ]
    parts = [Part(lot=lot, mass_kg=lot.mass_kg) for lot in lots]
    fill = fill_of(parts)
    assert (fill.mass_kg, fill.start_temperature_c) == (20.3, -12.0)
    assert fill.deliver_by == DEPARTS_AT + timedelta(days=2)
    assert fill.species == (way.species, lots[2].species)
    assert fill_of(parts, measured_c=-10.0).start_temperature_c == -10.0
    assert fill_of(parts, measured_c=-30.0).start_temperature_c == -12.0


def test_an_hour_later_than_planned_is_judged_as_planned(judge):
    assert judge(closes_at=DEPARTS_AT + timedelta(hours=1)) == judge()


def test_fish_that_is_soft_already_too_little_of_it_or_too_much_is_not_followed_at_all(judge):
    assert judge(start_temperature_c=-1.0).reason == "start_too_warm"
    for mass_kg in (1.0, 150.0):
        judged = judge(mass_kg=mass_kg)
        assert (judged.reason, judged.departure, judged.chance_hard) == ("cannot_be_judged", None, 0)
        assert judged.words == judged.problem.problem


def test_a_departure_that_is_in_no_timetable_any_more_is_not_safe(way):
    def judged():
        parcel = parcels_of(way.cooperative).get()
        [found] = judged_cartons([parcel]).values()
        return found.reason

    assert judged() is None
    way.timetable.departs_at_local = "16:30"
    way.timetable.save()
    assert judged() == "departure_gone"


def test_a_month_without_a_climate_makes_a_carton_unsafe_and_no_broken_list(way):
    way.route.origin.climates.filter(month=3).delete()
    [judged] = judged_cartons(parcels_of(way.cooperative)).values()
    assert judged.reason == "cannot_be_judged"
    assert "no climate" in judged.words


def test_every_reason_has_words(judge):
    judged = judge()
    for reason, words in WORDS.items():
        assert Judged(judged.fill, reason, 0.0, None).words == words


def test_closed_and_empty_cartons_are_not_judged_again(way):
    row = parcel_of(way)
    assert len(judged_cartons(parcels_of(way.cooperative))) == 1
    assert judged_cartons([]) == {}
    assert local_day(row).isoformat() == "2026-03-02"


def test_many_parcels_take_as_many_questions_as_one(way):
    def read():
        return judged_cartons(parcels_of(way.cooperative))

    for_one = questions(read)
    for day in range(3, 9):
        row = parcel_of(way, departs_at=DEPARTS_AT.replace(day=day))
        PartFactory(carton=row.cartons.get(), lot=lot_of(way, mass_kg=80.0))
    assert questions(read) == for_one <= 12
    assert len(read()) == 7
