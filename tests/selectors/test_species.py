import pytest

from coop.errors import Invalid
from coop.selectors.species import all_species, softens_at
from tests.factories.species import SpeciesFactory

pytestmark = pytest.mark.django_db


def test_species_come_by_name_and_belong_to_nobody():
    later, earlier = SpeciesFactory(name_en="Tilapia"), SpeciesFactory(name_en="Catfish")
    assert list(all_species()) == [earlier, later]


def test_lean_fish_softens_at_about_the_temperature_that_is_published():
    # Half of its water is ice at about −2.2 °C: Torry Advisory Note 32. Cod, by the composition of USDA.
    cod = SpeciesFactory(water_share=0.81, protein_share=0.178, fat_share=0.007, ash_share=0.012)
    assert softens_at(cod) == pytest.approx(-2.2, abs=0.2)


def test_flesh_that_cannot_be_is_refused_by_its_species():
    odd = SpeciesFactory(water_share=0.3, protein_share=0.65, fat_share=0.03, ash_share=0.02)
    with pytest.raises(Invalid) as failure:
        softens_at(odd)
    [problem] = failure.value.problems
    assert (problem.field, problem.value) == ("species", odd.code)
