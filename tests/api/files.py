"""Files that are sent and fetched as a manager of a small trade, and a digest of all that is stored."""

from django.apps import apps
from django.test import Client

from tests.api.people import client_of, told
from tests.factories.tariffs import ByStepRuleFactory, TariffStepFactory
from tests.factories.timetables import FillingTimetableFactory

SUBJECTS = ("charges", "fares", "fish_prices", "material_prices", "members", "timetables")


class Files:
    """Sends and fetches files as a member, whose token every request carries."""

    def __init__(self, member):
        self.client = client_of(member)

    def take(self, subject, content, *, form="text/csv; charset=utf-8", **query):
        words = "&".join(f"{name}={value}" for name, value in query.items())
        address = f"/api/v1/imports/{subject}/{'?' if words else ''}{words}"
        return told(self.client.post(address, content, content_type=form))

    def feed(self, content, **query):
        return self.take("gtfs", content, form="application/zip", **query)

    def fetch(self, subject, **query):
        answer = self.client.get(f"/api/v1/exports/{subject}/", query)
        assert answer.status_code == 200, answer.content
        return answer.content


def full_trade(trade):
    """The trade with a fare by steps and a vehicle that leaves when full, too."""
    by_step = ByStepRuleFactory(tariff=trade.tariff, position=2)
    for from_kg, amount in ((0.0, 5_000), (50.0, 9_000)):
        TariffStepFactory(rule=by_step, from_kg=from_kg, amount_minor=amount)
    FillingTimetableFactory(cooperative=trade.cooperative, carrier=trade.carrier, route=trade.route)
    return trade


def everything():
    """All rows of all tables, histories too."""
    models = apps.get_app_config("coop").get_models()
    return {model.__name__: list(model._default_manager.order_by("pk").values_list()) for model in models}


def visitor():
    return Client()
