"""Prices and hours edited together are compared as they will be."""

from datetime import date, time

import pytest

from coop.models import Buyer, Material, MaterialPrice, ReceivingHours
from tests.admin.pages import address, mistakes, row, send
from tests.factories.buyers import BuyerFactory, ReceivingHoursFactory
from tests.factories.materials import MaterialFactory, MaterialPriceFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def material():
    """Two prices, the newer one shown first: from January to July, and from July on."""
    material = MaterialFactory()
    MaterialPriceFactory(material=material, valid_from=date(2026, 1, 1), valid_until=date(2026, 7, 1))
    MaterialPriceFactory(material=material, valid_from=date(2026, 7, 1))
    return material


def new_price(number, valid_from, valid_until=""):
    columns = {"valid_from": valid_from, "valid_until": valid_until, "amount_minor": 900}
    columns |= {"confirmed_on": "2026-09-01", "figures": "estimated"}
    return row("prices", number, **columns)


def spans(material):
    found = MaterialPrice.objects.filter(material=material).order_by("valid_from")
    return [(str(price.valid_from), price.valid_until and str(price.valid_until)) for price in found]


def test_one_save_ends_the_old_price_and_begins_the_new_one(admin_client, material):
    answer = send(
        admin_client,
        address(Material, material),
        **row("prices", 0, valid_until="2026-10-01"),
        **new_price(2, "2026-10-01"),
        **{"prices-TOTAL_FORMS": 3},
    )
    assert answer.status_code == 302
    assert spans(material) == [
        ("2026-01-01", "2026-07-01"),
        ("2026-07-01", "2026-10-01"),
        ("2026-10-01", None),
    ]


@pytest.mark.parametrize("border", ["2026-05-01", "2026-09-01"])
def test_the_border_between_two_prices_moves_either_way(admin_client, material, border):
    answer = send(
        admin_client,
        address(Material, material),
        **row("prices", 0, valid_from=border),
        **row("prices", 1, valid_until=border),
    )
    assert answer.status_code == 302
    assert spans(material) == [("2026-01-01", border), (border, None)]


def test_a_price_takes_the_days_of_one_that_goes(admin_client, material):
    answer = send(
        admin_client,
        address(Material, material),
        **row("prices", 1, DELETE="on"),
        **row("prices", 0, valid_from="2026-02-01"),
    )
    assert answer.status_code == 302
    assert spans(material) == [("2026-02-01", None)]


def test_two_new_prices_of_the_same_days_are_said(admin_client):
    material = MaterialFactory()
    answer = send(
        admin_client,
        address(Material, material),
        **new_price(0, "2026-01-01"),
        **new_price(1, "2026-03-01"),
        **{"prices-TOTAL_FORMS": 2},
    )
    assert "overlaps with the one from 2026-03-01 and goes on" in mistakes(answer)
    assert spans(material) == []


def test_a_new_price_over_an_open_one_is_said_beside_the_new_one(admin_client, material):
    answer = send(
        admin_client,
        address(Material, material),
        **new_price(2, "2026-10-01"),
        **{"prices-TOTAL_FORMS": 3},
    )
    assert "overlaps with the one from 2026-07-01" in mistakes(answer)
    [inline] = answer.context["inline_admin_formsets"]
    assert [bool(errors) for errors in inline.formset.errors] == [False, False, True]


def test_a_price_that_is_wrong_in_itself_is_said_first(admin_client, material):
    answer = send(admin_client, address(Material, material), **row("prices", 0, valid_from="soon"))
    assert "Enter a valid date" in mistakes(answer)


def test_hours_of_one_day_that_overlap_are_said(admin_client):
    buyer = BuyerFactory()
    ReceivingHoursFactory(buyer=buyer, weekday=0, opens_at=time(8), closes_at=time(12))
    page = address(Buyer, buyer)
    again = {"receiving_hours-TOTAL_FORMS": 2}
    late = row("receiving_hours", 1, weekday=0, opens_at="11:00", closes_at="17:00")
    assert "overlaps" in mistakes(send(admin_client, page, **late, **again))
    next_day = row("receiving_hours", 1, weekday=1, opens_at="11:00", closes_at="17:00")
    assert send(admin_client, page, **next_day, **again).status_code == 302
    assert ReceivingHours.objects.filter(buyer=buyer).count() == 2
