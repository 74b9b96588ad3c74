from api.old_prices import OldPricesOut
from coop.models import Charge, FishPrice, MaterialPrice, Tariff, Terms
from tests.api.dated_scene import clock, shore
from tests.api.test_openapi import differences

__all__ = ["clock", "shore"]
CONFIRMED = (Charge, FishPrice, MaterialPrice, Tariff, Terms)


def asked(shore):
    status, answer = shore.ask_as_member("old-prices/")
    assert (status, differences(OldPricesOut(), answer)) == (200, [])
    return answer["old_prices"]


def confirm(shore, day):
    for model in CONFIRMED:
        model.objects.of(shore.cooperative).update(confirmed_on=day)


def test_what_nobody_confirmed_for_a_month_is_old(shore):
    confirm(shore, "2026-01-30")
    found = asked(shore)
    assert {one["subject"] for one in found} == {
        "tariffs", "fish-prices", "material-prices", "charges", "timetables", "terms",
    }  # fmt: skip
    [tariff] = [one for one in found if one["subject"] == "tariffs"]
    assert (tariff["id"], tariff["confirmed_on"], tariff["days"]) == (shore.tariff.pk, "2026-01-30", 31)
    [hour] = [one for one in found if one["subject"] == "timetables"]
    assert (hour["confirmed_on"], hour["days"]) == (None, None)


def test_thirty_days_are_not_old_yet_and_what_is_confirmed_is_old_no_more(shore):
    confirm(shore, "2026-01-31")
    assert [one["subject"] for one in asked(shore)] == ["timetables"]
    assert shore.ask.post(f"timetables/{shore.timetable.pk}/confirm/")[0] == 200
    assert asked(shore) == []


def test_what_is_over_is_not_asked_about(shore):
    confirm(shore, "2026-01-30")
    Tariff.objects.of(shore.cooperative).update(valid_until="2026-03-02")
    assert "tariffs" not in {one["subject"] for one in asked(shore)}


def test_a_cost_says_which_of_its_lines_are_old(shore):
    confirm(shore, "2026-03-01")
    Tariff.objects.of(shore.cooperative).update(confirmed_on="2026-01-30")
    query = {
        "route": "south", "carrier": shore.carrier.pk, "carton_design": "common",
        "species": shore.species.code, "mass_kg": "60",
    }  # fmt: skip
    answer = shore.ask("cost/", **query)[1]
    assert [line["code"] for line in answer["lines"] if line["is_old"]] == ["fare_per_carton"]
    assert answer["old_prices"] == 1
    fish = {"route": "south", "species": shore.species.code, "mass_kg": "60", "start_temperature_c": "-18"}
    page = shore.ask("departures/", **fish, page_size=1)[1]
    [departure] = page["results"]
    assert departure["old_prices"] == 1
    whole = shore.ask(f"departures/{departure['id']}/", **{k: v for k, v in fish.items() if k != "route"})[1]
    assert whole["cost"]["old_prices"] == 1
