"""The account of all changes, as a manager reads it."""

from datetime import timedelta

import pytest
from django.apps import apps

from api.history import ChangesOut
from tests.api.dated_scene import NOON, TOMORROW, WEEK, clock, shore
from tests.api.people import asking_as, somebody
from tests.api.test_openapi import differences
from tests.selectors.queries import questions

__all__ = ["clock", "shore"]


@pytest.fixture
def account(shore):
    """Of what has changed since Monday noon."""
    for model in apps.get_app_config("coop").get_models():
        if hasattr(model, "instance_type"):
            model.objects.of(shore.cooperative).update(history_date=NOON - timedelta(days=9))

    def read(**query):
        status, answer = shore.ask("history/", **query)
        assert (status, differences(ChangesOut(), answer)) == (200, [])
        return [one for one in answer["results"] if one["at"] >= NOON.isoformat()]

    return read


def fare(shore, amount, **more):
    rules = [{"kind": "per_carton", "amount_minor": amount}]
    body = {"carrier": shore.carrier.pk, "route": "south", "valid_from": TOMORROW, "rules": rules, **more}
    return shore.ask.post("tariffs/", body)[1]["id"]


def amounts(change):
    """What the one rule took before and after."""
    [rules] = [one for one in change["changes"] if one["field"] == "rules"]
    return [side and [rule["amount_minor"] for rule in side] for side in (rules["before"], rules["after"])]


def test_a_new_fare_is_told_from_what_counted_before(shore, account):
    pk = fare(shore, 35_000, note="heard at the taxi park")
    begun, ended = account()
    assert (begun["kind"], begun["subject"], begun["id"]) == ("begun", "tariffs", pk)
    assert begun["by"] == {"id": shore.manager.pk, "name": "Manager"}
    assert begun["at"] == "2026-03-02T12:00:00+02:00"
    assert begun["note"] == "heard at the taxi park"
    assert begun["name"] == f"{shore.carrier.name}, {shore.route.name}"
    assert (begun["valid_from"], begun["valid_until"]) == (TOMORROW, None)
    assert amounts(begun) == [[30_000], [35_000]]
    assert (ended["kind"], ended["id"]) == ("ended", shore.tariff.pk)
    assert ended["changes"] == [{"field": "valid_until", "before": None, "after": TOMORROW}]


def test_a_fare_of_the_same_day_is_told_as_a_change_of_it(shore, account, clock):
    pk = fare(shore, 35_000)
    clock(1)
    fare(shore, 36_000)
    [last] = account(subject="tariffs", id=pk, page_size=1)
    assert (last["kind"], amounts(last)) == ("changed", [[35_000], [36_000]])


def test_what_is_confirmed_ended_and_withdrawn_says_so(shore, account, clock):
    pk = fare(shore, 35_000)
    for step, body in (("confirm", {}), ("end", {"valid_until": WEEK})):
        clock(24 if step == "confirm" else 1)
        shore.ask.post(f"tariffs/{pk}/{step}/", body)
    coming = fare(shore, 37_000, valid_from="2026-03-08")
    clock(1)
    shore.ask.post(f"tariffs/{coming}/withdraw/", {"note": "a rumour"})
    kinds = [(one["kind"], one["id"]) for one in account(subject="tariffs")]
    assert kinds[-4:] == [("ended", pk), ("confirmed", pk), ("begun", pk), ("ended", shore.tariff.pk)]
    assert ("withdrawn", coming) in kinds
    gone = next(one for one in account() if one["kind"] == "withdrawn")
    assert (gone["note"], gone["changes"]) == ("a rumour", [])


def test_materials_of_a_design_are_told_as_a_whole(shore, account):
    used = shore.design.materials.get(use="carton").material.slug
    body = {"slug": "common", "valid_from": TOMORROW, "materials": [{"material": used, "use": "carton"}]}
    assert shore.ask.post("carton-designs/", body)[0] == 201
    begun = account(subject="carton-designs")[0]
    [change] = begun["changes"]
    assert change["field"] == "materials"
    assert [len(change[side]) for side in ("before", "after")] == [3, 1]


def test_one_change_and_thirty_take_as_many_questions(shore, account, clock):
    def asked():
        return questions(lambda: account(subject="tariffs"))

    fare(shore, 31_000)
    for_one = asked()
    for number in range(29):
        clock(1 / 60)
        fare(shore, 31_001 + number)
    assert asked() == for_one
    assert len(account(subject="tariffs")) == 31


@pytest.mark.parametrize("query", [{"subject": "lots"}, {"id": "0"}, {"page": "99"}, {"kind": "begun"}])
def test_what_it_does_not_know_is_refused(shore, account, query):
    assert shore.ask("history/", **query)[0] == 400


def test_a_stranger_reads_nothing_of_it(shore, account, theirs):
    fare(shore, 35_000)
    answer = asking_as(somebody(theirs, "manager"))("history/", subject="tariffs")[1]
    assert answer["results"] == []
