from datetime import date

import pytest
from django.apps import apps
from django.contrib import admin
from django.contrib.messages import get_messages

from coop.admin.tables import KeptTable
from coop.models import DesignMaterial, Kept, Leg, Tariff, TariffStep, Timetable
from tests.admin.pages import address, mistakes, send
from tests.factories.carriers import CarrierFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.tariffs import TariffFactory
from tests.factories.timetables import TimetableFactory
from tests.models.refusals import stored
from tests.selectors.queries import questions

pytestmark = pytest.mark.django_db

TABLES = [model for model in apps.get_app_config("coop").get_models() if admin.site.is_registered(model)]
KEPT = [model for model in TABLES if isinstance(admin.site.get_model_admin(model), KeptTable)]
EDITED = [model for model in TABLES if model not in KEPT]
each_table = pytest.mark.parametrize("model", TABLES, ids=[model.__name__ for model in TABLES])
each_edited = pytest.mark.parametrize("model", EDITED, ids=[model.__name__ for model in EDITED])
each_kept = pytest.mark.parametrize("model", KEPT, ids=[model.__name__ for model in KEPT])


def test_every_table_is_edited_by_itself_or_inside_its_parent():
    inside = {inline.model for table in TABLES for inline in admin.site.get_model_admin(table).inlines}
    # Of a history every record stays as it is: it has a page of its own on the screens.
    histories = {
        model for model in apps.get_app_config("coop").get_models() if hasattr(model, "instance_type")
    }
    # What phones were given is digests: nobody reads or mends them.
    assert {*TABLES, *inside} == set(apps.get_app_config("coop").get_models()) - histories - {Kept}
    assert {Leg, DesignMaterial, TariffStep} <= inside


@each_table
def test_every_page_opens(admin_client, model):
    row = stored(model)
    listing = address(model).removesuffix("add/")
    for page in (listing, address(model, row)):
        assert admin_client.get(page).status_code == 200
    assert admin_client.get(address(model)).status_code == (403 if model in KEPT else 200)


@each_kept
def test_what_services_write_is_shown_and_not_changed(admin_client, model):
    row = stored(model)
    before = list(model.objects.values())
    page = address(model, row)
    assert admin_client.post(page, {}).status_code == 403
    assert admin_client.post(page.replace("change", "delete"), {"post": "yes"}).status_code == 403
    assert list(model.objects.values()) == before


@each_edited
def test_what_is_shown_can_be_saved_as_it_is(admin_client, model):
    row = stored(model)
    answer = send(admin_client, address(model, row))
    assert answer.status_code == 302, mistakes(answer)
    assert list(model.objects.filter(pk=row.pk).values()) == [
        {name: value for name, value in vars(row).items() if not name.startswith("_")}
    ]


@each_table
def test_a_list_asks_as_much_for_ten_rows_as_for_one(admin_client, model):
    listing = address(model).removesuffix("add/")
    stored(model)
    admin_client.get(listing)
    for_one = questions(lambda: admin_client.get(listing))
    for _ in range(9):
        stored(model)
    assert questions(lambda: admin_client.get(listing)) <= for_one + 1


def test_a_row_stays_with_its_cooperative(admin_client):
    member, other = MemberFactory(), CooperativeFactory()
    send(admin_client, address(type(member), member), cooperative=other.pk, name="Renamed")
    member.refresh_from_db()
    assert member.name == "Renamed"
    assert member.cooperative != other


@pytest.mark.parametrize(("factory", "model"), [(TariffFactory, Tariff), (TimetableFactory, Timetable)])
def test_an_overlap_is_said_beside_the_field(admin_client, factory, model):
    first = factory(valid_from=date(2026, 1, 1), valid_until=date(2026, 7, 1))
    second = factory(
        cooperative=first.cooperative,
        carrier=first.carrier,
        route=first.route,
        valid_from=date(2026, 7, 1),
    )
    answer = send(admin_client, address(model, second), valid_from="2026-06-30")
    assert "overlaps with the one from 2026-01-01 until 2026-07-01" in mistakes(answer)


def test_a_carrier_of_another_cooperative_is_said_beside_the_field(admin_client):
    tariff, strange = TariffFactory(), CarrierFactory()
    answer = send(admin_client, address(Tariff, tariff), carrier=strange.pk)
    assert "belongs to another cooperative" in mistakes(answer)


def test_what_only_the_database_sees_becomes_a_sentence_and_no_broken_page(admin_client, monkeypatch):
    """Somebody else stores the same days between the check of the form and the saving."""
    first = TariffFactory(valid_from=date(2026, 1, 1), valid_until=date(2026, 7, 1))
    second = TariffFactory(
        cooperative=first.cooperative,
        carrier=first.carrier,
        route=first.route,
        valid_from=date(2026, 7, 1),
    )
    monkeypatch.setattr(Tariff, "compared_by_the_form", True)
    page = address(Tariff, second)
    answer = send(admin_client, page, valid_from="2026-06-30")
    assert (answer.status_code, answer.url) == (302, page)
    [message] = get_messages(answer.wsgi_request)
    assert "the database refused it" in message.message
    second.refresh_from_db()
    assert second.valid_from == date(2026, 7, 1)


def test_a_figure_that_was_read_without_its_source_is_said(admin_client):
    tariff = TariffFactory()
    answer = send(admin_client, address(Tariff, tariff), figures="read")
    assert "A figure that was read names its source." in mistakes(answer)
