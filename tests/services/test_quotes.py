"""Quotes as they are made: what is on the ladder surely arrives hard, and every price pays for itself."""

from dataclasses import replace
from datetime import datetime, timedelta
from fractions import Fraction
from itertools import pairwise

import pytest
from django.db import connection

from coop.errors import Conflict, Invalid, NotAllowed, NotFound, NotSafe
from coop.models import Lot, MaterialPrice, Parcel, Quote, Supply, Tariff
from coop.selectors.parcel_judgement import ParcelJudge
from coop.selectors.quotes import quote_named
from coop.selectors.quotes_figures import fish_of, parcel_for
from coop.services.quotes import make_quote, preview_quote, renew_link, revoke_quote
from coop.services.quotes_answered import accept_quote
from coop.services.secret_links import digest_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import DEPARTS_AT
from tests.factories.quotes import SupplyFactory
from tests.factories.scene import common_carton, thin_carton
from tests.factories.tariffs import TariffRuleFactory
from tests.services.packing_day import CLOSES_AT, LONG_LEG, NOW, packing_day
from tests.services.quoting_day import fish, quoted, wanted

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    return packing_day()


def test_a_quote_is_of_the_fish_of_a_new_supply_and_says_what_it_promises(day):
    quote, secret = quoted(day)
    assert (quote.state, quote.made_by, quote.supply.member) == ("issued", day.owner, day.owner)
    assert quote.departs_at == DEPARTS_AT
    assert datetime.fromisoformat(quote.figures["closes_at"]) == CLOSES_AT
    assert quote.valid_until == CLOSES_AT
    assert quote.figures["valid_until_because"] == {"code": "closes"}
    assert (quote.figures["limit_kind"], quote.figures["limit_value"]) == ("softened_share", 0.05)
    assert quote.figures["chance_hard"] >= quote.figures["confidence"] == 0.95
    assert quote.least_kg == quote.figures["ladder"][0]["from_kg"]
    assert quote.most_kg == quote.figures["ladder"][-1]["to_kg"] == 60.0
    assert len(secret) >= 22


def test_the_secret_is_stored_nowhere_and_has_128_bits_at_least(day):
    quote, secret = quoted(day)
    assert quote.secret_digest == digest_of(secret)
    with connection.cursor() as cursor:
        cursor.execute("SELECT * FROM coop_quote")
        assert secret not in str(cursor.fetchall())
    others = {quoted(day, supply=quote.supply).secret for _ in range(3)}
    assert len(others | {secret}) == 4
    assert len(set("".join(others))) > 20


def test_the_same_id_again_gives_the_first_quote_without_its_secret(day):
    asked, uuid = wanted(day), "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c15"
    first, _ = make_quote(by=day.owner, wanted=asked, uuid=uuid, now=NOW)
    again = make_quote(by=day.owner, wanted=replace(asked, profit_share=0.5), uuid=uuid, now=NOW)
    assert (again.quote, again.secret) == (first, None)
    assert Quote.objects.count() == Supply.objects.count() == 1
    with pytest.raises(Conflict, match="something else"):
        make_quote(by=day.packer, wanted=asked, uuid=uuid, now=NOW)


def test_a_preview_says_the_same_and_writes_nothing(day):
    shown = preview_quote(by=day.owner, wanted=wanted(day), now=NOW)
    assert (Quote.objects.count(), Supply.objects.count()) == (0, 0)
    assert quoted(day).quote.figures == shown.figures


@pytest.mark.parametrize("leg", [None, LONG_LEG])
def test_no_weight_is_offered_whose_carton_is_not_surely_hard(leg):
    """Judged anew at weights of its own, and not only where the ladder was judged."""
    day = packing_day(leg=leg)
    quote, _ = quoted(day, by=day.packer, fish=fish(day, mass_kg=250.0, start_temperature_c=-20.0))
    rungs = quote.figures["rungs"]
    judge = ParcelJudge([parcel_for(quote, CLOSES_AT)])
    for rung in [rungs[0], *rungs[1 :: max(1, len(rungs) // 7)], rungs[-1]]:
        in_each = round(rung["kg"] / rung["cartons"], 3)
        judged = judge.judged(parcel_for(quote, CLOSES_AT), fish_of(quote.supply, None, in_each))
        assert judged.is_safe
        assert judged.chance_hard >= rung["chance_hard"] >= quote.figures["chance_hard"]


def test_too_little_for_a_second_carton_is_not_offered_where_half_full_ones_do_not_hold():
    day = packing_day(leg={"hours_mean": 18.0, "hours_floor": 13.0, "hours_cv": 0.4})
    quote, _ = quoted(day, by=day.packer, fish=fish(day, mass_kg=250.0, start_temperature_c=-20.0))
    offered = [rung["kg"] for rung in quote.figures["rungs"]]
    gaps = [(a, b) for a, b in pairwise(offered) if b - a > quote.figures["step_kg"]]
    assert gaps, offered
    # Prices never reach over a gap.
    for first, after in gaps:
        assert not any(step["from_kg"] <= first < after <= step["to_kg"] for step in quote.figures["ladder"])


def test_a_departure_on_which_nothing_is_safe_is_refused(day):
    with pytest.raises(NotSafe, match="Nothing can be quoted") as refusal:
        quoted(day, design=thin_carton(day.cooperative), fish=fish(day, start_temperature_c=-5.0))
    assert not refusal.value.judged.is_safe
    assert Quote.objects.count() == 0


def test_fish_too_warm_or_too_little_is_refused(day):
    with pytest.raises((NotSafe, Invalid)):
        quoted(day, fish=fish(day, start_temperature_c=-2.5))
    with pytest.raises(NotSafe, match="may not hold"):
        quoted(day, fish=fish(day, mass_kg=2.0))
    # An eighth of a carton is judged and holds here; so little of it is not looked at.
    with pytest.raises(Conflict, match="5 kg do not fill a carton"):
        quoted(day, fish=fish(day, mass_kg=5.0, start_temperature_c=-40.0))


@pytest.mark.parametrize("mass_kg", [float("nan"), float("inf"), 0.0, -1.0, 1e9])
def test_a_mass_that_is_none_is_refused_by_name(day, mass_kg):
    with pytest.raises(Invalid) as refusal:
        quoted(day, fish=fish(day, mass_kg=mass_kg))
    assert {problem.field for problem in refusal.value.problems} == {"mass_kg"}


@pytest.mark.parametrize("kind", ["mark_up", "margin"])
@pytest.mark.parametrize("share", [float("nan"), float("inf"), -0.01, 1001])
def test_a_profit_that_is_none_is_refused(day, kind, share):
    with pytest.raises(Invalid, match="profit_share"):
        quoted(day, profit_kind=kind, profit_share=share)


def paid_for(quote, rung, profit):
    """Whether a weight brings its cost and its profit, in whole coins."""
    step = next(one for one in quote.figures["ladder"] if one["from_kg"] <= rung["kg"] <= one["to_kg"])
    return step["price_minor_per_kg"] * Fraction(str(rung["kg"])) >= rung["cost_minor"] * (1 + profit)


@pytest.mark.parametrize(("kind", "share", "profit"), [("mark_up", 0.25, "1/4"), ("margin", 0.2, "1/4")])
def test_every_weight_brings_its_cost_and_its_profit(day, kind, share, profit):
    day.cooperative.coin_minor = 5
    day.cooperative.save()
    TariffRuleFactory(tariff=day.tariff, kind="per_kilogram", amount_minor=150, minimum_minor=9000)
    quote, _ = quoted(day, by=day.packer, fish=fish(day, mass_kg=220.0), profit_kind=kind, profit_share=share)
    assert all(paid_for(quote, rung, Fraction(profit)) for rung in quote.figures["rungs"])
    assert all(step["price_minor_per_kg"] % 5 == 0 for step in quote.figures["ladder"])


def test_prices_of_later_change_nothing_of_what_was_quoted(day):
    quote, _ = quoted(day)
    before = quote.figures
    MaterialPrice.objects.update(amount_minor=99_999)
    assert quote_named(day.cooperative, quote.uuid, NOW).figures == before
    assert quoted(day, supply=quote.supply).quote.figures["ladder"] != before["ladder"]


def test_what_has_no_price_is_not_quoted(day):
    Tariff.objects.all().delete()
    with pytest.raises(Invalid, match="fare of"):
        quoted(day)


def test_it_ends_when_somebody_says_so_but_never_after_the_carton_closes(day):
    soon, late = NOW + timedelta(hours=3), CLOSES_AT + timedelta(hours=1)
    quote, _ = quoted(day, valid_until=soon)
    assert (quote.valid_until, quote.figures["valid_until_because"]) == (soon, {"code": "asked"})
    quote, _ = quoted(day, valid_until=late)
    assert (quote.valid_until, quote.figures["valid_until_because"]) == (CLOSES_AT, {"code": "closes"})
    with pytest.raises(Invalid, match="valid_until: is over"):
        quoted(day, valid_until=NOW)


def test_it_keeps_the_end_of_every_row_that_it_rests_on(day):
    Tariff.objects.update(valid_until=DEPARTS_AT.date() + timedelta(days=3))
    rests_on = quoted(day).quote.figures["rests_on"]
    [tariff] = [row for row in rests_on if row["subject"] == "tariff"]
    assert tariff["valid_until"] == "2026-03-05"
    assert {row["subject"] for row in rests_on} == {
        *("tariff", "fish_price", "material_price", "charge", "terms"),
        *("buyer_limit", "timetable", "carton_design"),
    }


def test_a_departure_that_is_over_or_far_away_is_not_quoted(day):
    for now in (CLOSES_AT, NOW - timedelta(days=70)):
        with pytest.raises(Invalid, match="date"):
            quoted(day, now=now, fish=fish(day, frozen_since=now, ready_at=now))


def test_fish_that_is_not_ready_when_the_carton_closes_is_not_quoted(day):
    with pytest.raises(Conflict, match="not ready"):
        quoted(day, fish=fish(day, ready_at=CLOSES_AT + timedelta(minutes=1)))


def test_a_vehicle_without_a_place_left_is_not_quoted(day):
    day.carrier.carton_places = 1
    day.carrier.save()
    # The parcel of the day has the only place.
    with pytest.raises(Conflict, match="no place"):
        quoted(day)


def test_a_member_quotes_her_own_fish_as_a_lot_and_whoever_packs_anybodys(day):
    with pytest.raises(NotAllowed):
        quoted(day, by=day.fellow)
    with pytest.raises(NotAllowed, match="quote a parcel"):
        quoted(day, becomes="parcel")
    assert quoted(day, by=day.packer, becomes="parcel").quote.made_by == day.packer


def test_nothing_of_another_cooperative_is_quoted(day):
    others = packing_day()
    for changes in (
        {"buyer": others.buyer},
        {"timetable": others.timetable},
        {"design": others.design},
        {"supply": SupplyFactory(cooperative=others.cooperative)},
        {"fish": fish(others)},
    ):
        with pytest.raises(NotFound):
            quoted(day, by=day.packer, **changes)


def test_a_supply_and_new_fish_at_once_or_neither_is_refused(day):
    supply = SupplyFactory(cooperative=day.cooperative, member=day.owner, species=day.species)
    for changes in ({"supply": supply, "fish": fish(day)}, {"supply": None}):
        with pytest.raises(Invalid, match="supply"):
            quoted(day, **changes)


def test_a_version_of_a_carton_that_does_not_count_that_day_is_refused(day):
    old = common_carton(day.cooperative, slug="old", valid_until=DEPARTS_AT.date())
    with pytest.raises(Invalid, match="does not count"):
        quoted(day, design=old)


def test_a_new_link_kills_the_old_one(day):
    quote, secret = quoted(day)
    again, newer = renew_link(by=day.owner, quote=quote, now=NOW)
    assert newer != secret
    assert again.secret_digest == digest_of(newer)
    with pytest.raises(NotFound):
        accept_quote(secret=secret, kg=40.0, name="B", now=NOW)


def test_a_revoked_quote_is_not_accepted_and_revoking_twice_is_once(day):
    quote, secret = quoted(day)
    assert revoke_quote(by=day.packer, quote=quote, now=NOW).state == "revoked"
    assert revoke_quote(by=day.owner, quote=quote, now=NOW + timedelta(hours=1)).revoked_at == NOW
    with pytest.raises(Conflict, match="revoked"):
        accept_quote(secret=secret, kg=40.0, name="B", now=NOW)
    with pytest.raises(Conflict, match="revoked"):
        renew_link(by=day.owner, quote=quote, now=NOW)
    assert Lot.objects.count() == Parcel.objects.exclude(pk=day.parcel.pk).count() == 0


def test_only_whose_it_is_and_whoever_packs_revokes_or_renews(day):
    quote, _ = quoted(day)
    for act in (revoke_quote, renew_link):
        with pytest.raises(NotAllowed):
            act(by=day.fellow, quote=quote, now=NOW)
        with pytest.raises(NotFound):
            act(by=day.stranger, quote=quote, now=NOW)
    stranger = MemberFactory(cooperative=CooperativeFactory(), role="packer")
    with pytest.raises(NotFound):
        revoke_quote(by=stranger, quote=quote, now=NOW)
