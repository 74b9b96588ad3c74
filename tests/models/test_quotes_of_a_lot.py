"""What the database holds of fish that was promised out of a lot: it is there, and it is there once."""

import pytest
from django.core.management import call_command
from django.db import connection

from coop.models import Lot, Part, Quote, Supply
from tests.factories.lots import LotFactory
from tests.factories.parcels import ParcelCartonFactory, PartFactory
from tests.factories.quotes import QuoteFactory, SupplyFactory
from tests.models.refusals import change, refused


def lot_of(mass_kg=100.0, **columns):
    return LotFactory(mass_kg=mass_kg, **columns)


def quote_of(lot):
    """An issued quote of 40 to 60 kg out of a lot, with a supply of its own."""
    ours = {"cooperative": lot.cooperative}
    return QuoteFactory(**ours, supply=SupplyFactory(**ours, member=lot.member, mass_kg=60.0, lot=lot))


def accept(quote, kg, **columns):
    sold = LotFactory(cooperative=quote.cooperative, mass_kg=kg)
    answer = {"state": "accepted", "accepted_kg": kg, "answered_at": quote.issued_at, "lot": sold}
    change(quote, **(answer | columns))


def carton_for(lot, **columns):
    parcel = {"cooperative": lot.cooperative, "route": lot.route, "buyer": lot.buyer}
    return ParcelCartonFactory(**{f"parcel__{name}": row for name, row in parcel.items()}, **columns)


@pytest.mark.django_db
def test_quotes_of_one_lot_promise_no_more_together_than_it_weighs():
    lot = lot_of()
    first, second = quote_of(lot), quote_of(lot)
    accept(first, 55.0)
    with refused("quote_within_its_lot"):
        accept(second, 45.001)
    accept(second, 45.0)
    # What was promised before does not stand in its own way.
    change(first, secret_digest="renewed")


@pytest.mark.django_db
def test_what_lies_in_a_carton_is_promised_to_nobody():
    lot = lot_of(may_be_split=True)
    PartFactory(lot=lot, carton=carton_for(lot), mass_kg=50.0)
    quote = quote_of(lot)
    with refused("quote_within_its_lot"):
        accept(quote, 50.001)
    accept(quote, 50.0)


@pytest.mark.django_db
def test_what_is_promised_lies_in_no_carton_beside_the_lot_that_it_became():
    lot = lot_of(may_be_split=True)
    accept(quote_of(lot), 60.0)
    carton = carton_for(lot)
    with refused("part_within_its_lot"):
        PartFactory(lot=lot, carton=carton, mass_kg=40.001)
    part = PartFactory(lot=lot, carton=carton, mass_kg=30.0)
    with refused("part_within_its_lot"):
        change(part, mass_kg=40.001)
    change(part, mass_kg=40.0)


@pytest.mark.django_db
def test_the_rest_of_a_lot_that_is_to_stay_whole_travels_whole():
    lot = lot_of()
    accept(quote_of(lot), 60.0)
    carton = carton_for(lot)
    for mass_kg in (39.0, 100.0):
        with refused("part_not_split_without_consent|part_within_its_lot"):
            PartFactory(lot=lot, carton=carton, mass_kg=mass_kg)
    PartFactory(lot=lot, carton=carton, mass_kg=40.0)


@pytest.mark.django_db
def test_a_withdrawn_lot_is_promised_no_more_and_one_that_was_promised_is_withdrawn():
    lot = lot_of()
    first, second = quote_of(lot), quote_of(lot)
    accept(first, 40.0)
    change(lot, withdrawn_at=lot.ready_at)
    with refused("quote_of_a_withdrawn_lot"):
        accept(second, 40.0)
    change(first, secret_digest="renewed")


@pytest.mark.django_db
@pytest.mark.parametrize("column", ["mass_kg", "may_be_split", "start_temperature_c", "deliver_by"])
def test_a_lot_of_which_some_is_promised_stays_as_it_is(column):
    lot = lot_of()
    new = {"mass_kg": 120.0, "may_be_split": True, "start_temperature_c": -9.0}
    quote = quote_of(lot)
    change(lot, mass_kg=110.0)
    accept(quote, 40.0)
    with refused("lot_promised_stays_as_it_is"):
        change(lot, **{column: new.get(column, lot.ready_at.replace(year=2027))})
    change(lot, note="40 for Mr Banda")


def rows(sql):
    with connection.cursor() as cursor:
        cursor.execute(sql)
        return cursor.fetchall()


def triggers():
    return dict(rows("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"))


def test_there_and_back_again_with_every_row_and_every_refusal(file_database):
    lot = lot_of(may_be_split=True)
    part = PartFactory(lot=lot, carton=carton_for(lot), mass_kg=10.0)
    quote = QuoteFactory()
    accept(quote, 40.0)
    before = [list(model.objects.order_by("pk").values()) for model in (Lot, Part, Quote, Supply)]
    refusals = triggers()
    call_command("migrate", "coop", "0011", verbosity=0)
    lost = {name for name in refusals if name not in triggers()}
    # Writes came later, and went with it.
    assert {name for name in lost if not name.startswith("write_")} == {
        "lot_promised_stays_as_it_is_update",
        "quote_of_a_withdrawn_lot_update",
        "quote_within_its_lot_insert",
        "quote_within_its_lot_update",
        "supply_lot_of_its_cooperative_insert",
        "supply_lot_of_its_cooperative_update",
        "supply_lot_of_its_member_insert",
    }
    with refused("part_within_its_lot"):
        rows(f"UPDATE coop_part SET mass_kg = 101 WHERE id = {part.pk}")
    call_command("migrate", "coop", verbosity=0)
    assert [list(model.objects.order_by("pk").values()) for model in (Lot, Part, Quote, Supply)] == before
    assert triggers() == refusals
