"""The buyer's money: kilograms × price to each owner; what is short is shared, and all goes to somebody."""

from datetime import timedelta

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import Entry
from coop.selectors.statements import balance_of
from coop.services.settling import settle_parcel
from tests.factories.members import MemberFactory, StrangerFactory
from tests.factories.parcels import closed, departed, handed_over
from tests.selectors.shared_carton import shared_carton

pytestmark = pytest.mark.django_db


def arrived(*masses_kg, **facts):
    scene = shared_carton(*masses_kg)
    scene.packer = MemberFactory(cooperative=scene.shore.cooperative, name="Packer", role="packer")
    handed_over(departed(closed(scene.parcel)), **facts)
    scene.at = scene.parcel.handed_over_at + timedelta(hours=1)
    return scene


def settled(scene, received_minor, **terms):
    return settle_parcel(
        by=terms.pop("by", scene.packer),
        parcel=scene.parcel,
        received_minor=received_minor,
        at=scene.at,
        **terms,
    )


def got(scene):
    return [-balance_of(member) for member in scene.members]


def test_hard_fish_pays_its_price_to_its_owner():
    scene = arrived(20.0, 35.0, 45.0)
    parcel = settled(scene, 100 * 5500)
    assert got(scene) == [20 * 5500, 35 * 5500, 45 * 5500]
    assert (parcel.state, parcel.received_minor) == ("settled", 550_000)


def test_a_short_payment_is_shared_by_the_rule_of_the_cooperative():
    # Aumann & Maschler 1985: 100, 200 and 300 of 300 get half; here 55 000, 110 000 and 165 000 of 165 000.
    scene = arrived(10.0, 20.0, 30.0)
    settled(scene, 165_000)
    assert got(scene) == [27_500, 55_000, 82_500]


def test_what_is_paid_beyond_the_dues_goes_to_all_in_proportion():
    scene = arrived(25.0, 75.0)
    settled(scene, 600_000)
    assert got(scene) == [150_000, 450_000]


def test_a_buyer_who_pays_each_owner_leaves_no_line():
    scene = arrived(25.0, 75.0)
    assert settled(scene, None).received_minor is None
    assert not Entry.objects.of(scene.shore.cooperative).exists()


def test_nothing_received_is_said_and_leaves_no_line():
    scene = arrived(25.0, 75.0)
    assert settled(scene, 0).received_minor == 0
    assert not Entry.objects.of(scene.shore.cooperative).exists()


def test_without_a_price_for_the_fish_it_is_not_settled():
    scene = arrived(25.0)
    scene.shore.fish_price.delete()
    with pytest.raises(Conflict, match="no price for"):
        settled(scene, 1000)
    assert settled(scene, None).state == "settled"


def test_it_is_settled_once_and_not_before_the_hand_over():
    scene = arrived(25.0)
    settled(scene, 1000)
    with pytest.raises(Conflict, match="settled"):
        settled(scene, 1000)
    assert got(scene) == [1000]
    early = shared_carton(25.0)
    packer = MemberFactory(cooperative=early.shore.cooperative, role="packer")
    for step in (lambda parcel: parcel, closed, departed):
        step(early.parcel)
        with pytest.raises(Conflict):
            settle_parcel(by=packer, parcel=early.parcel, received_minor=1, at=scene.at)


@pytest.mark.parametrize("amount", [-1, 1.5, True, "12", float("nan"), 10**12 + 1])
def test_an_amount_that_is_none_is_refused(amount):
    with pytest.raises(Invalid, match="received_minor"):
        settled(arrived(25.0), amount)


def test_an_hour_before_the_hand_over_is_refused():
    scene = arrived(25.0)
    with pytest.raises(Invalid, match="before the hand-over"):
        settle_parcel(by=scene.packer, parcel=scene.parcel, received_minor=1, at=scene.parcel.departed_at)


def test_members_do_not_settle_and_strangers_find_no_parcel():
    scene = arrived(25.0)
    with pytest.raises(NotAllowed):
        settled(scene, 1, by=scene.members[0])
    with pytest.raises(NotFound):
        settled(scene, 1, by=StrangerFactory(role="manager"))
