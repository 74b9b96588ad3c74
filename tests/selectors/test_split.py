"""The split of a parcel as it is shown: what each pays by each rule beside what alone would cost."""

import pytest
from django.core.cache import cache

from coop.models import SharingRule
from coop.selectors.safe_fills import SafeFills
from coop.selectors.split import split_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import PartFactory, lot_of
from tests.selectors.queries import questions
from tests.selectors.shared_carton import SHORT_WAY, shared_carton

pytestmark = pytest.mark.django_db


@pytest.fixture
def scene():
    return shared_carton(20.0, 35.0, 45.0, leg=SHORT_WAY)


def test_every_rule_shares_the_bill_and_alone_is_dearer_than_sharing_a_carton(scene):
    split = split_of(scene.parcel)
    assert [portion.mass_kg for portion in split.portions] == [20.0, 35.0, 45.0]
    assert [portion.member for portion in split.portions] == scene.members
    assert {found.rule for found in split.rules} == set(SharingRule.values)
    for found in split.rules:
        assert sum(found.amounts_minor) == split.bill_minor
    assert split.in_force.rule == "capped"
    for portion in split.portions:
        assert split.share_of(portion.member) < portion.alone_minor
    assert (split.core_is_empty, split.in_force.why) == (False, "nobody_would_leave")
    assert split.in_force.better_alone == ()


def test_a_member_with_two_lots_is_one_player(scene):
    PartFactory(
        carton=scene.parcel.cartons.get(), lot=lot_of(scene.shore, member=scene.members[0], mass_kg=0.5)
    )
    split = split_of(scene.parcel)
    assert split.players == 3
    assert split.portions[0].mass_kg == 20.5


def test_it_moves_with_every_lot_and_every_price(scene):
    before = split_of(scene.parcel).bill_minor
    scene.shore.tariff.rules.update(amount_minor=31_000)
    assert split_of(scene.parcel).bill_minor == before + 1000
    fourth = MemberFactory(cooperative=scene.shore.cooperative, name="Member D")
    PartFactory(carton=scene.parcel.cartons.get(), lot=lot_of(scene.shore, member=fourth, mass_kg=0.5))
    assert split_of(scene.parcel).players == 4


def test_what_was_worked_out_is_remembered_and_nothing_is_judged_again(scene, monkeypatch):
    cache.clear()
    first = split_of(scene.parcel)
    monkeypatch.setattr(SafeFills, "_judge", None)
    again = split_of(scene.parcel)
    assert (again.portions, again.rules, again.bill_minor) == (first.portions, first.rules, first.bill_minor)


def test_who_cannot_stay_hard_alone_has_no_price_alone():
    # Nine hours of road: 6 kg in the common carton soften, together with 90 they stay hard.
    scene = shared_carton(6.0, 90.0, leg={"distance_km": 500, "hours_mean": 9.0, "hours_floor": 7.0})
    small, great = split_of(scene.parcel).portions
    assert small.alone_minor is None
    assert great.alone_minor > 0


def test_warm_fish_of_a_fellow_makes_nobody_s_alone_dearer(scene):
    before = [portion.alone_minor for portion in split_of(scene.parcel).portions]
    warm = MemberFactory(cooperative=scene.shore.cooperative, name="Warm")
    lot = lot_of(scene.shore, member=warm, mass_kg=0.5, start_temperature_c=-3.0)
    PartFactory(carton=scene.parcel.cartons.get(), lot=lot)
    assert [portion.alone_minor for portion in split_of(scene.parcel).portions][:3] == before


def test_one_member_alone_pays_all(scene):
    alone = shared_carton(40.0, leg=SHORT_WAY)
    split = split_of(alone.parcel)
    assert {found.amounts_minor for found in split.rules} == {(split.bill_minor,)}
    assert split.in_force.why == "alone"


def test_shares_are_paid_in_the_coin_of_the_cooperative():
    shore = CooperativeFactory(slug="coins", coin_minor=50)
    scene = shared_carton(20.0, 35.0, 44.0, cooperative=shore, leg=SHORT_WAY)
    split = split_of(scene.parcel)
    for found in split.rules:
        assert sum(amount % 50 != 0 for amount in found.amounts_minor) <= 1
        assert sum(found.amounts_minor) == split.bill_minor


def test_too_many_for_the_rule_of_the_cooperative_are_shared_by_the_one_that_always_works():
    shore = CooperativeFactory(slug="many", sharing_rule="nucleolus")
    few = split_of(shared_carton(20.0, 35.0, cooperative=shore, leg=SHORT_WAY).parcel)
    assert few.rule == "nucleolus"
    other = CooperativeFactory(slug="more", sharing_rule="nucleolus")
    many = split_of(shared_carton(*[7.0] * 13, cooperative=other, leg=SHORT_WAY).parcel)
    assert (many.rule, many.players, many.core_is_empty) == ("capped", 13, None)


def test_a_split_takes_as_many_questions_for_two_as_for_six():
    def asked(*masses):
        scene = shared_carton(*masses, leg=SHORT_WAY)
        split_of(scene.parcel)
        return questions(lambda: split_of(scene.parcel))

    assert asked(20.0, 30.0) == asked(*[15.0] * 6) <= 30
