from datetime import date

import pytest

from api.packing import FACES, PackingOut, packing_of
from coop.engines.carton import FACES as ENGINE_FACES
from coop.models import CartonDesign
from coop.selectors.packing import packing_sheet
from tests.api.test_openapi import differences
from tests.factories.scene import common_carton, returnable_box

MONDAY = date(2026, 3, 2)


@pytest.fixture
def design(ours):
    return common_carton(ours)


def test_a_sheet_has_exactly_what_is_described(design):
    assert differences(PackingOut(), packing_of(packing_sheet(design, 80.0, MONDAY), 1)) == []


def test_faces_are_named_in_the_order_of_the_walls():
    assert FACES == ENGINE_FACES


def test_each_face_keeps_its_own_thickness(design):
    for number, face in enumerate(FACES):
        setattr(design, f"insulation_{face}_m", 0.05 + number / 100)
    shown = packing_of(packing_sheet(design, 40.0, MONDAY), 1)["faces_m"]
    assert shown == {face: pytest.approx(0.05 + n / 100) for n, face in enumerate(FACES)}


def test_a_box_weighs_what_was_entered(ours):
    box = returnable_box(ours)
    shown = packing_of(packing_sheet(box, 80.0, MONDAY), 2)
    assert shown["gross_in_one_kg"] == 80 + 14
    assert shown["gross_kg"] == 2 * (80 + 14)


def test_what_has_no_price_is_still_to_be_bought(design):
    bag = design.materials.get(use="thin_bag").material
    bag.prices.all().delete()
    fresh = CartonDesign.objects.get(pk=design.pk)
    [bought] = [
        one for one in packing_of(packing_sheet(fresh, 80.0, MONDAY), 1)["buy"] if one["name"] == bag.name
    ]
    assert (bought["quantity"], bought["amount_minor"], bought["priced_on"]) == (40.0, None, None)
