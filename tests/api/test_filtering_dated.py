"""Every list of what is dated is asked for a day, and for what counts from a day on."""

from datetime import date

import pytest
from django.apps import apps

from api import urls
from api.filtering import DatedFilters
from coop.models import Terms
from coop.models.validity import Dated
from tests.api.routes import ROUTES

SECOND, NINTH = date(2026, 3, 2), date(2026, 3, 9)
DATED = (
    "buyer-limits",
    "carton-designs",
    "charges",
    "fish-prices",
    "material-prices",
    "tariffs",
    "terms",
    "timetables",
)


@pytest.fixture
def ask(ask_as_manager):
    return ask_as_manager


def test_every_dated_table_has_a_list_that_is_asked_for_days():
    dated = [model for model in apps.get_app_config("coop").get_models() if issubclass(model, Dated)]
    lists = {str(one.pattern).removesuffix("/"): one.callback.cls for one in urls.urlpatterns}
    filters = {name: getattr(view, "filters", object) for name, view in lists.items()}
    assert sorted(name for name, one in filters.items() if issubclass(one, DatedFilters)) == list(DATED)
    assert len(dated) == len(DATED)


@pytest.mark.parametrize("address", DATED)
def test_from_a_day_on_what_counts_and_what_is_to_come_is_listed(ask, ours, address):
    make = next(route.make for route in ROUTES if route.address == address)
    spans = {"coming": (NINTH, None), "counts": (SECOND, NINTH), "over": (date(2024, 1, 1), SECOND)}
    made = {}
    # Terms count from the first day of a cooperative on; they make room for these three.
    Terms.objects.of(ours).delete()
    for name, (begins, ends) in spans.items():
        row = make(ours)
        type(row).objects.filter(pk=row.pk).update(valid_from=begins, valid_until=ends)
        made[row.pk] = name

    def listed(day):
        shown = ask(f"{address}/", from_date=day, page_size=100)[1]["results"]
        return {made[row["id"]] for row in shown if row["id"] in made}

    assert listed("2026-03-01") == {"over", "counts", "coming"}
    assert listed("2026-03-02") == listed("2026-03-08") == {"counts", "coming"}
    assert listed("2026-03-09") == listed("2040-01-01") == {"coming"}
