import pytest

from tests.factories.carriers import CarrierFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_name_is_taken_once_in_a_cooperative():
    carrier = CarrierFactory()
    with refused("coop_carrier.name|carrier_name_once_in_a_cooperative"):
        twin(carrier)


@pytest.mark.parametrize(("column", "word"), [("vehicle", "boat"), ("ride", "trailer"), ("waits_in", "rain")])
def test_a_word_outside_its_list_is_refused(column, word):
    with refused(f"carrier_{column}_known"):
        change(CarrierFactory(), **{column: word})
