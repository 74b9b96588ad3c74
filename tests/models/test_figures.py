import pytest
from django.core.exceptions import ValidationError

from tests.factories.places import PlaceFactory
from tests.models.refusals import change, checks, refused, stored

SOURCED = checks("_read_names_its_source")


@pytest.mark.django_db
@pytest.mark.parametrize(("model", "constraint"), SOURCED)
def test_a_figure_that_was_read_names_its_source(model, constraint):
    row = stored(model)
    change(row, figures="read", source="Table 3")
    with refused(constraint.name):
        change(row, source="")


def test_every_table_with_figures_says_where_they_come_from():
    assert len(SOURCED) == 16


@pytest.mark.django_db
def test_the_form_says_what_is_missing():
    with pytest.raises(ValidationError, match="names its source"):
        PlaceFactory.build(figures="read").full_clean()
    PlaceFactory.build(figures="estimated").full_clean()
