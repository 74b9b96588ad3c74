import pytest

from coop.models.ownership import Owned
from coop.models.validity import Dated
from coop.selectors.subjects import SUBJECTS
from tests.models.refusals import stored

every = pytest.mark.parametrize("subject", SUBJECTS.values(), ids=lambda one: one.word)


def test_every_dated_table_is_a_subject():
    assert {one.model for one in SUBJECTS.values()} == set(Dated.__subclasses__())
    assert all(hasattr(one.model, "history") for one in SUBJECTS.values())


@every
def test_what_makes_a_row_that_of_its_thing_is_no_figure_of_it(subject):
    assert not set(subject.figures) & {"id", "figures", "source", "valid_from", *subject.model.alike}
    assert "valid_until" in subject.figures
    assert not issubclass(subject.model, Owned) or "cooperative" not in subject.figures


@pytest.mark.django_db
@every
def test_a_row_and_its_record_have_the_same_name(subject):
    row = stored(subject.model)
    assert subject.name(row) == subject.name(row.history.latest()) != ""


def test_what_is_asked_about_is_confirmed():
    asked = {word for word, one in SUBJECTS.items() if one.is_confirmed}
    assert set(SUBJECTS) - asked == {"carton-designs", "buyer-limits"}
