import pytest
from django.core.exceptions import ValidationError

from tests.factories.species import SpeciesFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("water", [0.77, 0.83])
def test_shares_that_do_not_add_up_to_one_are_refused(water):
    species = SpeciesFactory()
    with refused("species_shares_sum_to_one"):
        change(species, water_share=water)
    species.water_share = water
    with pytest.raises(ValidationError, match="add up to 1"):
        species.full_clean()


@pytest.mark.parametrize("water", [0.785, 0.815])
def test_shares_may_be_rounded(water):
    change(SpeciesFactory(), water_share=water)


def test_a_code_names_one_species():
    with refused("coop_species.code|coop_species_code"):
        twin(SpeciesFactory())


@pytest.mark.parametrize("code", ["irq", "IR", "I1Q"])
def test_a_code_is_three_capital_letters(code):
    with pytest.raises(ValidationError):
        SpeciesFactory.build(code=code).full_clean()
