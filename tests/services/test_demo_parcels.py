"""The invented cooperative has parcels in every state, whatever the day on which it is loaded."""

from datetime import UTC, datetime, timedelta

import pytest
from django.db import transaction

from coop.models import Claim, Entry, Freezer, Lot, Parcel, ParcelState, Separation
from coop.selectors.cooperatives import demo_cooperative
from coop.selectors.lots import lots_of
from coop.selectors.parcel_judgement import judged_cartons
from coop.selectors.parcels import left_too_late, parcels_of
from coop.selectors.split import split_of
from coop.selectors.statements import balances_of
from coop.services.demo import load_demo

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("demo")]

# A Wednesday afternoon in the heat, and a Sunday night at the end of the cold months.
LOADED = (datetime(2026, 11, 25, 13, tzinfo=UTC), datetime(2026, 8, 30, 21, tzinfo=UTC))


@pytest.fixture(scope="module", params=LOADED, ids=lambda now: f"{now:%A}")
def demo(request, django_db_setup, django_db_blocker):
    """Loaded once for all tests of this file, and taken back after them."""
    with django_db_blocker.unblock(), transaction.atomic():
        load_demo(now=request.param)
        yield request.param
        transaction.set_rollback(True)


def test_parcels_are_in_every_state_and_lots_wait():
    assert set(Parcel.objects.values_list("state", flat=True)) == set(ParcelState.values)
    waiting = lots_of(demo_cooperative()).filter(state="offered")
    assert waiting.count() >= 4
    assert {lot.may_be_split for lot in waiting} == {True, False}


def test_what_is_over_is_over_and_what_is_open_is_to_come(demo):
    for parcel in Parcel.objects.all():
        assert (parcel.closes_at > demo) == (parcel.state == "open")
        hours = [parcel.closed_at, parcel.departed_at, parcel.arrived_at, parcel.handed_over_at]
        passed = [hour for hour in hours if hour]
        assert passed == sorted(passed)
        assert all(hour <= demo for hour in passed)
    assert not Lot.objects.filter(offered_at__gt=demo).exists()
    assert not Entry.objects.filter(written_at__gt=demo + timedelta(minutes=1)).exists()


def test_nothing_left_unsafe_and_what_is_open_can_still_be_closed_safely():
    parcels = list(parcels_of(demo_cooperative()))
    assert not [carton for parcel in parcels for carton in left_too_late(parcel)]
    judged = judged_cartons([parcel for parcel in parcels if parcel.state == "open"])
    assert judged
    assert all(one.is_safe for one in judged.values())


def test_every_closed_parcel_has_a_bill_that_several_share_and_nobody_pays_more_than_alone():
    for parcel in Parcel.objects.exclude(state="open"):
        split = split_of(parcel)
        assert split.players >= 2
        assert sum(split.in_force.amounts_minor) == split.bill_minor > 0
        assert split.in_force.better_alone == ()


def test_accounts_hold_lines_of_many_kinds_and_some_owe_and_some_are_owed():
    assert {"share", "proceeds", "claim", "payment", "payout"} <= set(
        Entry.objects.values_list("kind", flat=True)
    )
    balances = [member.balance_minor for member in balances_of(demo_cooperative())]
    assert min(balances) < 0 < max(balances)
    assert sum(balances) == sum(Entry.objects.values_list("amount_minor", flat=True))


def test_one_claim_was_shared_and_one_waits():
    shared = Claim.objects.exclude(shared_at=None).get()
    assert sum(part.awarded_minor for part in shared.parts.all()) == shared.estate_minor
    assert Claim.objects.filter(shared_at=None, rejected_at=None).count() == 1


def test_there_are_freezers_and_species_kept_apart():
    assert Freezer.objects.count() == 2
    assert Separation.objects.count() == 1
