"""The invented cooperative holds what was promised, and every row of it is right by its own form."""

import json
from collections import Counter
from datetime import date
from itertools import combinations

import pytest
from django.apps import apps
from django.db import transaction

from coop.models import (
    Buyer,
    Carrier,
    CartonDesign,
    Climate,
    Figures,
    Leg,
    Material,
    Member,
    Place,
    Route,
    RuleKind,
    Species,
    TariffRule,
)
from coop.models.figures import Figured
from coop.models.routes import broken_chain
from coop.selectors.charges import charges_on
from coop.selectors.cooperatives import demo_cooperative
from coop.selectors.materials import materials_of, price_on
from coop.selectors.prices import fish_price_on
from coop.selectors.tariffs import tariff_on
from coop.selectors.timetables import timetables_of
from coop.services.demo import FIXTURES, fixture_path, load_demo

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("demo")]
INVENTED = ("Cooperative", "Carrier", "Timetable", "Tariff", "MaterialPrice", "FishPrice", "Charge", "Buyer")


@pytest.fixture(scope="module")
def demo(django_db_setup, django_db_blocker):
    """Loaded once for all tests of this file, and taken back after them."""
    with django_db_blocker.unblock(), transaction.atomic():
        load_demo()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def today():
    """The day on which the newest price of the fixtures was confirmed."""
    texts = [fixture_path(name).read_text(encoding="utf-8") for name in FIXTURES]
    days = [row["fields"].get("confirmed_on", "") for text in texts for row in json.loads(text)]
    return date.fromisoformat(max(days))


def test_it_holds_what_was_promised():
    counts = {model.__name__: model.objects.count() for model in (Route, Carrier, CartonDesign, Species)}
    assert counts == {"Route": 3, "Carrier": 3, "CartonDesign": 4, "Species": 6}
    assert Member.objects.count() == 6
    assert Buyer.objects.count() >= 2
    assert Place.objects.count() == 8
    assert Climate.objects.count() == 8 * 12


def test_at_least_twenty_departures_leave_in_a_week(today):
    leaving = [row for row in timetables_of(demo_cooperative()) if row.counts_on(today)]
    assert sum(len(row.weekdays) for row in leaving) >= 20
    assert {row.route.slug for row in leaving} == {"mpulungu-lusaka", "mpulungu-kasama", "mpulungu-mpika"}
    assert any(row.leaves_when_full for row in leaving)


def test_one_design_is_a_returnable_insulated_box():
    [box] = CartonDesign.objects.filter(returnable=True)
    assert box.expected_trips > 1
    assert box.insulation_material != "shavings"


def test_its_return_is_paid_for_on_every_way(today):
    for row in timetables_of(demo_cooperative()):
        if row.counts_on(today):
            kinds = [rule.kind for rule in tariff_on(row.carrier, row.route, today).rules.all()]
            assert RuleKind.RETURN_OF_EMPTY in kinds


def test_every_kind_of_rule_is_shown_once_at_least():
    assert set(TariffRule.objects.values_list("kind", flat=True)) == set(RuleKind.values)


def test_every_row_passes_its_form():
    for model in apps.get_app_config("coop").get_models():
        for row in model.objects.all():
            row.full_clean()


def test_every_figure_says_where_it_comes_from():
    tables = [model for model in apps.get_app_config("coop").get_models() if issubclass(model, Figured)]
    marks = Counter(row.figures for table in tables for row in table.objects.all())
    assert set(marks) == set(Figures.values)
    assert not [table for table in tables if table.objects.filter(source="").exists()]


def test_people_carriers_fares_and_prices_are_invented_and_say_so():
    for name in INVENTED:
        table = apps.get_model("coop", name)
        assert set(table.objects.values_list("figures", flat=True)) == {Figures.INVENTED}


def test_the_legs_of_every_route_join_from_end_to_end():
    for route in Route.objects.all():
        assert route.legs.count() > 0
        assert broken_chain(route, route.legs.all()) is None


def test_the_road_to_lusaka_is_about_a_thousand_and_sixty_kilometres_at_the_speed_of_such_roads():
    legs = Leg.objects.filter(route__slug="mpulungu-lusaka")
    assert sum(leg.distance_km for leg in legs) == pytest.approx(1060, abs=20)
    hours = sum(leg.hours_mean for leg in legs)
    assert 50 <= 1060 / hours <= 65
    assert all(leg.distance_km / leg.hours_floor < 85 for leg in legs)


def test_the_climate_of_lusaka_is_the_public_table():
    """The monthly means as a copy of the public climate table of Lusaka gives them, to 0.1 °C."""
    maxima = [27.4, 27.4, 27.5, 27.1, 25.8, 23.8, 24.0, 26.5, 30.3, 31.7, 30.4, 27.7]
    minima = [17.6, 17.4, 16.4, 14.0, 10.7, 7.8, 7.2, 9.2, 12.9, 16.2, 17.4, 17.8]
    rows = list(Climate.objects.filter(place__code="lusaka").order_by("month"))
    assert [row.temperature_max_c for row in rows] == maxima
    assert [row.temperature_min_c for row in rows] == minima
    assert {row.figures for row in rows} == {Figures.READ}
    assert {row.cloud_figures for row in rows} == {Figures.ESTIMATED}


def test_the_shore_is_warmer_than_the_plateau_above_all_at_night():
    by_place = {code: list(Climate.objects.filter(place__code=code)) for code in ("mpulungu", "kasama")}
    for shore, plateau in zip(*by_place.values(), strict=True):
        by_day = shore.temperature_max_c - plateau.temperature_max_c
        by_night = shore.temperature_min_c - plateau.temperature_min_c
        assert 0 < by_day < by_night


def test_the_rains_bring_the_clouds():
    for place in Place.objects.all():
        cloud = {row.month: row.cloud_share for row in place.climates.all()}
        assert min(cloud[month] for month in (12, 1, 2)) > 0.6
        assert max(cloud[month] for month in (6, 7, 8)) < 0.2


def test_everything_has_a_price_on_the_day(today):
    assert all(price_on(material, today) for material in materials_of(demo_cooperative()))
    assert all(fish_price_on(demo_cooperative(), species, today) for species in Species.objects.all())
    assert {charge.kind for charge in charges_on(demo_cooperative(), today)} >= {"handling", "levy", "papers"}
    assert not Material.objects.filter(uses=None).exists()


def test_no_two_rows_of_a_thing_share_a_day():
    spans = [model for model in apps.get_app_config("coop").get_models() if hasattr(model, "clashes_with")]
    assert len(spans) == 9
    for model in spans:
        assert not [pair for pair in combinations(model.objects.all(), 2) if pair[0].clashes_with(pair[1])]
