import pytest
from django.core.exceptions import ValidationError

from tests.factories.cooperatives import CooperativeFactory
from tests.factories.separations import SeparationFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_two_species_are_kept_apart_once_whichever_is_named_first():
    row = SeparationFactory()
    for pair in ({}, {"one": row.other, "other": row.one}):
        with refused("separation_once_in_a_cooperative"):
            twin(row, **pair)
    assert twin(row, cooperative=CooperativeFactory()).pair == row.pair


def test_a_species_is_not_kept_apart_from_itself():
    row = SeparationFactory()
    with refused("separation_of_two_species"):
        change(row, other=row.one)
    row.other = row.one
    with pytest.raises(ValidationError, match="Name two species"):
        row.full_clean()
