import pytest

from tests.factories.charges import ChargeFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_negative_charge_is_refused():
    with refused("charge_amount_minor_range"):
        change(ChargeFactory(), amount_minor=-1)


@pytest.mark.parametrize(("column", "word"), [("kind", "bribe"), ("basis", "trip")])
def test_a_word_outside_its_list_is_refused(column, word):
    with refused(f"charge_{column}_known"):
        change(ChargeFactory(), **{column: word})


def test_two_charges_of_one_kind_have_two_names():
    charge = ChargeFactory(name="Permit")
    twin(charge, name="Stamp")
    with refused("charge_overlap"):
        twin(charge)
