"""The split: whoever packs sees everybody's, a member her own beside all others together."""

import pytest

from api.split import SplitOut
from api.split_words import NOT_FEASIBLE, REASONS, RULES
from coop.models import Charge, FishPrice, MaterialPrice, SharingRule, Tariff, Terms
from coop.selectors import split as split_selector
from tests.api.packing_scene import CLOSES_AT, clock, day, made, opened, shared
from tests.api.packing_scene import closed as close
from tests.api.test_openapi import differences
from tests.factories.parcels import PartFactory, closed, lot_of, parcel_of
from tests.factories.shares import BillLineFactory, ShareFactory, StabilityFactory

__all__ = ["clock", "day"]

WHY = ("ALONE", "NOBODY_WOULD_LEAVE", "SOME_WOULD_LEAVE", "NO_SPLIT_IS_STABLE", "TOO_MANY_TO_TELL")


def split_for(ask, parcel):
    found = made(ask(f"parcels/{getattr(parcel, 'uuid', None) or parcel['id']}/split/"), 200)
    assert differences(SplitOut(), found) == []
    return found


def unstable(day, leaves=("anna",)):
    """A closed parcel of Anna, Bwalya and Chanda under one rule, which some of them would rather leave."""
    parcel = parcel_of(day.shore)
    for who in ("anna", "bwalya", "chanda"):
        lot = lot_of(day.shore, member=day.members[who], mass_kg=20.0)
        PartFactory(carton=parcel.cartons.get(), lot=lot)
    closed(parcel)
    BillLineFactory(parcel=parcel, amount_minor=1000, quantity=2, unit="carton", rate_minor=500)
    for who, amount, alone in (("anna", 500, 400), ("bwalya", 300, 600), ("chanda", 200, None)):
        ShareFactory(parcel=parcel, member=day.members[who], amount_minor=amount, alone_minor=alone)
    ids = [day.members[who].pk for who in leaves]
    StabilityFactory(parcel=parcel, leaves=ids, gain_minor=100)
    return parcel


def test_every_rule_shares_the_whole_bill_whoever_asks(day):
    parcel = shared(day, anna=20.0, bwalya=35.0, chanda=40.0)
    for who, rows in (("anna", 2), ("packer", 3), ("manager", 3)):
        found = split_for(getattr(day, who), parcel)
        assert (found["final"], found["players"], found["sampled"]) == (False, 3, False)
        assert [rule["rule"] for rule in found["rules"]] == list(SharingRule.values)
        for rule in found["rules"]:
            assert len(rule["shares"]) == rows
            assert sum(share["amount_minor"] for share in rule["shares"]) == found["bill_minor"]
        assert sum(line["amount_minor"] for line in found["lines"]) == found["bill_minor"]
        assert sum(row["mass_kg"] for row in found["members"]) == 95.0


def test_a_member_sees_her_row_and_one_of_all_others(day):
    parcel = unstable(day)
    found = split_for(day.bwalya, parcel)
    assert found["members"] == [
        {
            "member": {"id": day.members["bwalya"].pk, "name": "Bwalya"},
            "name": "Bwalya",
            "count": 1,
            "mine": True,
            "mass_kg": 20.0,
            "alone_minor": 600,
        },
        {
            "member": None,
            "name": "others",
            "count": 2,
            "mine": False,
            "mass_kg": 40.0,
            "alone_minor": None,
        },
    ]
    [rule] = found["rules"]
    assert rule["shares"] == [
        {"member": day.members["bwalya"].pk, "amount_minor": 300},
        {"member": None, "amount_minor": 700},
    ]


def test_who_would_leave_is_told_to_herself_and_to_who_packs(day):
    parcel = unstable(day)
    anna = day.members["anna"].pk
    for who, objection, better in (
        ("packer", {"members": ["Anna"], "gain_minor": 100}, [anna]),
        ("anna", {"members": ["Anna"], "gain_minor": 100}, [anna]),
        ("bwalya", None, []),
    ):
        [rule] = split_for(getattr(day, who), parcel)["rules"]
        assert (rule["objection"], rule["better_alone"], rule["why"]) == (
            objection,
            better,
            "some_would_leave",
        )
        assert rule["words"].endswith("Some would do better by leaving together.")


def test_what_a_coalition_would_gain_is_told_to_none_of_its_members(day):
    parcel = unstable(day, leaves=("anna", "chanda"))
    assert split_for(day.packer, parcel)["rules"][0]["objection"]["members"] == ["Anna", "Chanda"]
    assert split_for(day.anna, parcel)["rules"][0]["objection"] is None


def test_who_has_no_fish_in_it_does_not_see_who_pays_what(day):
    parcel = unstable(day)
    status, answer = day.esther(f"parcels/{parcel.uuid}/split/")
    assert (status, answer["error"]["code"]) == (403, "not_allowed")


def test_an_empty_parcel_has_nothing_to_share(day):
    found = split_for(day.packer, opened(day))
    assert (found["bill_minor"], found["members"], found["rules"], found["lines"]) == (None, [], [], [])
    assert found["missing"] == ["fish in any carton"]


def test_without_a_price_there_is_no_bill_and_what_is_missing_is_named(day):
    parcel = shared(day, anna=20.0)
    day.shore.tariff.delete()
    found = split_for(day.anna, parcel)
    assert (found["bill_minor"], found["rules"]) == (None, [])
    assert found["missing"]
    assert found["members"][0]["mine"] is True


def test_a_line_of_an_open_split_whose_price_is_old_says_so_and_once_it_is_closed_none_does(day, clock):
    parcel = shared(day, anna=20.0, bwalya=35.0)
    confirm(day, "2026-02-28")
    assert not any(line["is_old"] for line in split_for(day.anna, parcel)["lines"])
    Tariff.objects.of(day.shore.cooperative).update(confirmed_on="2026-01-29")
    for ask in (day.anna, day.packer):
        lines = split_for(ask, parcel)["lines"]
        old = [(line["code"], line["priced_on"]) for line in lines if line["is_old"]]
        assert old == [("fare_per_carton", "2026-01-29")]
    clock.at(CLOSES_AT)
    close(day, parcel)
    found = split_for(day.anna, parcel)
    assert found["final"] is True
    assert "2026-01-29" in {line["priced_on"] for line in found["lines"]}
    assert not any(line["is_old"] for line in found["lines"])


def test_thirty_days_after_it_was_confirmed_a_price_of_a_split_is_not_old_yet(day):
    parcel = shared(day, anna=20.0)
    confirm(day, "2026-01-30")
    assert not any(line["is_old"] for line in split_for(day.anna, parcel)["lines"])
    confirm(day, "2026-01-29")
    lines = split_for(day.anna, parcel)["lines"]
    assert [line["is_old"] for line in lines] == [line["priced_on"] == "2026-01-29" for line in lines]
    assert any(line["is_old"] for line in lines)


def confirm(day, on):
    """All that a bill rests on was confirmed on a day."""
    for model in (Charge, FishPrice, MaterialPrice, Tariff, Terms):
        model.objects.of(day.shore.cooperative).update(confirmed_on=on)


def test_every_rule_and_every_reason_has_words():
    assert set(RULES) == set(SharingRule.values)
    assert set(REASONS) == {getattr(split_selector, name) for name in WHY}
    constants = {name for name in vars(split_selector) if name.isupper() and name != "MOST_PLAYERS"}
    assert constants == set(WHY)


@pytest.mark.parametrize("alone", [(100, 100, 100), (400, 600, 0)])
def test_a_bill_that_alone_would_be_less_says_so(day, alone):
    parcel = parcel_of(day.shore)
    whose = [day.members[who] for who in ("anna", "bwalya", "chanda")]
    for member in whose:
        PartFactory(carton=parcel.cartons.get(), lot=lot_of(day.shore, member=member, mass_kg=20.0))
    closed(parcel)
    BillLineFactory(parcel=parcel, amount_minor=1000)
    for member, amount, limit in zip(whose, (500, 300, 200), alone, strict=True):
        ShareFactory(parcel=parcel, member=member, amount_minor=amount, alone_minor=limit)
    StabilityFactory(parcel=parcel, core_is_empty=True)
    [rule] = split_for(day.packer, parcel)["rules"]
    can_be_capped = sum(alone) >= 1000
    assert rule["feasible"] is can_be_capped
    assert rule["words"].endswith(NOT_FEASIBLE) is not can_be_capped
