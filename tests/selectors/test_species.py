import pytest

from coop.selectors.species import all_species
from tests.factories.species import SpeciesFactory

pytestmark = pytest.mark.django_db


def test_species_come_by_name_and_belong_to_nobody():
    later, earlier = SpeciesFactory(name_en="Tilapia"), SpeciesFactory(name_en="Catfish")
    assert list(all_species()) == [earlier, later]
