"""Two rows of one thing never share a day: the form says so first, the database refuses in any case."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.db import connection

from coop.models import FishPrice, Tariff
from tests.factories.buyer_limits import BuyerLimitFactory
from tests.factories.buyers import BuyerFactory, ReceivingHoursFactory
from tests.factories.cartons import CartonDesignFactory
from tests.factories.charges import ChargeFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.materials import MaterialPriceFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.routes import RouteFactory
from tests.factories.tariffs import TariffFactory
from tests.factories.terms import TermsFactory
from tests.factories.timetables import TimetableFactory
from tests.models.refusals import change, refused, twin, unsaved_twin

pytestmark = pytest.mark.django_db

DATED = [
    (TimetableFactory, "timetable_overlap"),
    (TariffFactory, "tariff_overlap"),
    (MaterialPriceFactory, "material_price_overlap"),
    (FishPriceFactory, "fish_price_overlap"),
    (ChargeFactory, "charge_overlap"),
    (CartonDesignFactory, "carton_design_overlap"),
    (TermsFactory, "terms_overlap"),
    (BuyerLimitFactory, "buyer_limit_overlap"),
]
every_dated = pytest.mark.parametrize(("factory", "name"), DATED, ids=[name for _, name in DATED])
JANUARY, MARCH, JULY, OCTOBER = (date(2026, month, 1) for month in (1, 3, 7, 10))
LAST_DAY, DAY_AFTER_FIRST = date(2026, 6, 30), date(2026, 1, 2)
# Against January to July.
OVERLAPPING = [
    (JANUARY, JULY),
    (MARCH, LAST_DAY),
    (date(2025, 1, 1), OCTOBER),
    (date(2025, 1, 1), None),
    (date(2025, 1, 1), DAY_AFTER_FIRST),
    (LAST_DAY, OCTOBER),
    (MARCH, None),
]
BESIDE = [(date(2025, 1, 1), JANUARY), (JULY, OCTOBER), (JULY, None)]


@pytest.mark.parametrize(("begin", "end"), OVERLAPPING)
@every_dated
def test_a_new_row_that_shares_a_day_is_refused(factory, name, begin, end):
    first = factory(valid_from=JANUARY, valid_until=JULY)
    with refused(name):
        twin(first, valid_from=begin, valid_until=end)


@pytest.mark.parametrize(("begin", "end"), OVERLAPPING)
@every_dated
def test_a_change_that_makes_a_row_share_a_day_is_refused(factory, name, begin, end):
    first = factory(valid_from=JANUARY, valid_until=JULY)
    second = twin(first, valid_from=date(2030, 1, 1), valid_until=None)
    with refused(name):
        change(second, valid_from=begin, valid_until=end)


@pytest.mark.parametrize(("begin", "end"), BESIDE)
@every_dated
def test_rows_that_touch_and_do_not_overlap_are_stored(factory, name, begin, end):
    first = factory(valid_from=JANUARY, valid_until=JULY)
    second = twin(first, valid_from=begin, valid_until=end)
    second.full_clean()
    assert type(first).objects.count() == 2


@every_dated
def test_a_row_may_change_its_own_days(factory, name):
    row = factory(valid_from=JANUARY, valid_until=JULY)
    change(row, valid_from=MARCH, valid_until=None)
    row.refresh_from_db()
    row.full_clean()


@every_dated
def test_an_open_end_refuses_everything_after_it(factory, name):
    first = factory(valid_from=JANUARY, valid_until=None)
    with refused(name):
        twin(first, valid_from=date(2099, 1, 1), valid_until=None)


@every_dated
def test_two_new_rows_in_one_statement_may_not_overlap_each_other(factory, name):
    first = factory(valid_from=JANUARY, valid_until=MARCH)
    pair = [unsaved_twin(first, valid_from=JULY, valid_until=OCTOBER) for _ in range(2)]
    with refused(name):
        type(first).objects.bulk_create(pair)


@pytest.mark.parametrize(("begin", "end"), OVERLAPPING)
@every_dated
def test_the_form_says_so_before_the_database_does(factory, name, begin, end):
    first = factory(valid_from=JANUARY, valid_until=JULY)
    second = twin(first, valid_from=date(2030, 1, 1), valid_until=None)
    second.valid_from, second.valid_until = begin, end
    with pytest.raises(ValidationError, match="overlaps with the one from 2026-01-01 until 2026-07-01"):
        second.full_clean()


def test_prices_of_two_cooperatives_do_not_meet():
    own = FishPriceFactory()
    twin(own, cooperative=CooperativeFactory())
    assert FishPrice.objects.count() == 2


def test_tariffs_of_one_carrier_on_two_routes_do_not_meet():
    tariff = TariffFactory()
    twin(tariff, route=RouteFactory(cooperative=tariff.cooperative))
    assert Tariff.objects.count() == 2


def test_a_charge_of_one_route_does_not_meet_the_same_of_every_route():
    charge = ChargeFactory()
    on_route = twin(charge, route=RouteFactory(cooperative=charge.cooperative))
    for_buyer = twin(charge, buyer=BuyerFactory(cooperative=charge.cooperative))
    for row in (charge, on_route, for_buyer):
        with refused("charge_overlap"):
            twin(row)


@pytest.mark.parametrize(
    ("opens", "closes"), [("07:00", "08:01"), ("09:00", "10:00"), ("16:59", "20:00"), ("06:00", "20:00")]
)
def test_receiving_hours_of_a_day_do_not_overlap(opens, closes):
    hours = ReceivingHoursFactory(opens_at="08:00", closes_at="17:00")
    with refused("receiving_hours_overlap"):
        twin(hours, opens_at=opens, closes_at=closes)
    evening = twin(hours, opens_at="21:00", closes_at="22:00")
    with refused("receiving_hours_overlap"):
        change(evening, opens_at=opens, closes_at=closes)


@pytest.mark.parametrize(("opens", "closes"), [("06:00", "08:00"), ("17:00", "20:00")])
def test_receiving_hours_may_touch(opens, closes):
    hours = ReceivingHoursFactory(opens_at="08:00", closes_at="17:00")
    twin(hours, opens_at=opens, closes_at=closes)
    twin(hours, weekday=(hours.weekday + 1) % 7)


def test_two_rows_at_hand_clash_as_they_would_in_the_database():
    one = TariffFactory.build(carrier_id=1, route_id=1, valid_from=JANUARY, valid_until=JULY)
    for begin, end in OVERLAPPING:
        other = TariffFactory.build(carrier_id=1, route_id=1, valid_from=begin, valid_until=end)
        assert one.clashes_with(other)
        assert other.clashes_with(one)
    for begin, end in BESIDE:
        other = TariffFactory.build(carrier_id=1, route_id=1, valid_from=begin, valid_until=end)
        assert not one.clashes_with(other)
        assert not other.clashes_with(one)


def test_a_table_that_was_rebuilt_still_has_its_triggers():
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger' AND name LIKE '%overlap%'")
            found = {name for (name,) in cursor.fetchall()}
        names = [*(name for _, name in DATED), "receiving_hours_overlap"]
        assert found == {f"{name}_{event}" for name in names for event in ("insert", "update")}
