"""Lots, parcels and money of two cooperatives never point at each other."""

from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError

from coop.models import Claim, Cooperative, Entry, Lot, Parcel, Plan
from tests.factories.cooperatives import CooperativeFactory
from tests.models.refusals import refused, stored, twin

pytestmark = pytest.mark.django_db
POINTING = [(model, name) for model in (Claim, Entry, Lot, Parcel, Plan) for name in model.within_cooperative]
each = pytest.mark.parametrize(("model", "name"), POINTING)


def strange(model, name):
    """A row of another cooperative that this relation could name."""
    target = model._meta.get_field(name).related_model
    row = stored(target)
    assert row.cooperative_id != stored(model).cooperative_id
    assert Cooperative.objects.count() > 1
    return row


@each
def test_a_row_points_at_rows_of_its_own_cooperative_only(model, name):
    row, other = stored(model), strange(model, name)
    with refused(rf"{model._meta.model_name}_\w+_of_"):
        twin(row, uuid=uuid4(), **{name: other})


@each
def test_the_form_names_the_stranger(model, name):
    row = stored(model)
    setattr(row, name, strange(model, name))
    with pytest.raises(ValidationError, match="belongs to another cooperative"):
        row.clean()


@pytest.mark.parametrize("model", [Claim, Entry, Lot, Parcel, Plan])
def test_what_belongs_to_a_cooperative_is_found_through_it(model):
    row = stored(model)
    assert model.objects.of(row.cooperative).get() == row
    assert not model.objects.of(CooperativeFactory()).exists()
