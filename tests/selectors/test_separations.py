import pytest

from coop.selectors.separations import apart_from, pairs_apart, separations_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.separations import SeparationFactory
from tests.factories.species import SpeciesFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def test_species_are_apart_whichever_is_asked_for_first_and_in_their_cooperative_only():
    row, third = SeparationFactory(), SpeciesFactory()
    pairs = pairs_apart(row.cooperative)
    assert apart_from(pairs, row.one, [row.other, third]) == [row.other]
    assert apart_from(pairs, row.other, [row.one, third]) == [row.one]
    assert apart_from(pairs, third, [row.one, row.other]) == []
    assert pairs_apart(CooperativeFactory()) == set()


def test_many_take_one_question():
    cooperative = CooperativeFactory()
    same_for_many(
        lambda: SeparationFactory(cooperative=cooperative),
        lambda: [str(row) for row in separations_of(cooperative)],
        most=1,
    )
