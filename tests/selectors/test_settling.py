"""What each owner is due of the buyer's money, and how it is divided where it does not suffice or is more."""

import pytest

from coop.selectors.settling import dues_of, proceeds_of, shared_by_rule
from tests.factories.parcels import PartFactory, closed, departed, handed_over, lot_of
from tests.factories.prices import FishPriceFactory
from tests.factories.species import SpeciesFactory
from tests.selectors.queries import questions
from tests.selectors.shared_carton import shared_carton

pytestmark = pytest.mark.django_db


def arrived(*masses_kg, **facts):
    scene = shared_carton(*masses_kg)
    handed_over(departed(closed(scene.parcel)), **facts)
    return scene


def test_soft_fish_pays_its_own_price_spread_over_all():
    # A quarter softened: 0.75 × 5 500 + 0.25 × 2 500 = 4 750 a kilogram.
    scene = arrived(20.0, 80.0, is_hard=False, soft_kg=25.0)
    assert dues_of(scene.parcel).amounts_minor == (20 * 4750, 80 * 4750)


@pytest.mark.parametrize("rule", ["proportional", "equal_awards", "equal_losses", "contested"])
def test_every_minor_unit_goes_to_somebody_and_nobody_gets_more_than_is_due(rule):
    scene = arrived(20.1, 35.1, 45.2)
    dues = dues_of(scene.parcel)
    for received in (0, 1, 49, 50, 12_345, 552_199):
        found = proceeds_of(dues, received_minor=received, rule=rule, coin=50)
        assert sum(found) == received
        assert all(part <= due for part, due in zip(found, dues.amounts_minor, strict=True))
    over = sum(dues.amounts_minor) + 1
    assert sum(proceeds_of(dues, received_minor=over, rule=rule, coin=50)) == over


def test_each_species_pays_its_own_price_of_the_day_of_the_hand_over():
    scene = shared_carton(20.0, 30.0)
    other = SpeciesFactory(code="LTM", name_en="Sprat")
    lot = lot_of(scene.shore, member=scene.members[0], species=other, mass_kg=10.0)
    PartFactory(carton=scene.parcel.cartons.get(), lot=lot)
    handed_over(departed(closed(scene.parcel)))
    assert dues_of(scene.parcel).missing == ("Sprat",)
    FishPriceFactory(cooperative=scene.shore.cooperative, species=other, sold_minor_per_kg=4000)
    assert dues_of(scene.parcel).amounts_minor == (20 * 5500 + 10 * 4000, 30 * 5500)
    assert dues_of(scene.parcel).members == tuple(scene.members)


def test_nothing_to_divide_gives_nobody_anything():
    assert shared_by_rule("contested", (5, 7), estate_minor=0, coin=1) == (0, 0)


def test_dues_take_as_many_questions_for_one_owner_as_for_ten():
    one, ten = arrived(20.0), arrived(*[9.0] * 10)
    assert questions(lambda: dues_of(one.parcel)) == questions(lambda: dues_of(ten.parcel)) <= 3
