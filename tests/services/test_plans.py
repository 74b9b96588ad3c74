"""A plan is a proposal until somebody accepts it: then all of it happens, or nothing."""

from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import Parcel, Plan
from coop.services.lots import withdraw_lot
from coop.services.plans import accept_plan, is_stale, propose_plan
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory, StrangerFactory
from tests.factories.parcels import lot_of, parcel_of
from tests.factories.scene import trade
from tests.selectors.asking import MONDAY
from tests.selectors.shared_carton import SHORT_WAY

pytestmark = pytest.mark.django_db

NOW = datetime(2026, 3, 2, 6, tzinfo=UTC)


@pytest.fixture
def shore():
    """Lots of 20, 35 and 45 kg wait for Monday."""
    found = trade(CooperativeFactory(), leg=SHORT_WAY)
    found.packer = MemberFactory(cooperative=found.cooperative, name="Packer", role="packer")
    found.lots = [lot_of(found, mass_kg=mass) for mass in (20.0, 35.0, 45.0)]
    return found


def proposed(shore, *, by=None, days=1, **terms):
    wanted = {
        "route": shore.route,
        "buyer": shore.buyer,
        "first_day": MONDAY,
        "last_day": MONDAY + timedelta(days=days - 1),
        "now": NOW,
    }
    return propose_plan(by=by or shore.packer, **(wanted | terms))


def test_a_proposal_opens_nothing_and_an_accepted_one_everything(shore):
    plan = proposed(shore)
    assert not Parcel.objects.of(shore.cooperative).exists()
    [parcel] = accept_plan(by=shore.packer, plan=plan, now=NOW)
    [carton] = parcel.cartons.all()
    assert sorted(part.mass_kg for part in carton.parts.all()) == [20.0, 35.0, 45.0]
    plan.refresh_from_db()
    assert (plan.accepted_at, plan.accepted_by) == (NOW, shore.packer)
    with pytest.raises(Conflict, match="accepted before"):
        accept_plan(by=shore.packer, plan=plan, now=NOW)
    assert Parcel.objects.of(shore.cooperative).count() == 1


def test_the_same_question_sent_twice_is_one_plan(shore):
    name = uuid4()
    assert proposed(shore, uuid=name) == proposed(shore, uuid=name)
    assert Plan.objects.of(shore.cooperative).count() == 1


@pytest.mark.parametrize(
    "change",
    [
        lambda shore: withdraw_lot(by=shore.packer, lot=shore.lots[0], now=NOW),
        lambda shore: lot_of(shore, mass_kg=12.0),
        lambda shore: parcel_of(shore),
        lambda shore: shore.tariff.rules.update(amount_minor=31_000),
    ],
    ids=["a lot less", "a lot more", "places", "a fare"],
)
def test_a_plan_whose_lots_places_or_prices_changed_is_refused_whole(shore, change):
    plan = proposed(shore)
    assert not is_stale(plan, NOW)
    change(shore)
    assert is_stale(plan, NOW)
    before = Parcel.objects.of(shore.cooperative).count()
    with pytest.raises(Conflict, match="have changed"):
        accept_plan(by=shore.packer, plan=plan, now=NOW)
    assert Parcel.objects.of(shore.cooperative).count() == before


def test_a_plan_of_a_departure_that_is_over_opens_nothing(shore):
    plan = proposed(shore)
    with pytest.raises(Invalid):
        accept_plan(by=shore.packer, plan=plan, now=NOW + timedelta(hours=12))
    assert not Parcel.objects.of(shore.cooperative).exists()


def test_a_plan_that_sends_nothing_is_not_accepted(shore):
    for lot in shore.lots:
        withdraw_lot(by=shore.packer, lot=lot, now=NOW)
    with pytest.raises(Conflict, match="sends nothing"):
        accept_plan(by=shore.packer, plan=proposed(shore), now=NOW)


@pytest.mark.parametrize(("first", "days"), [(-1, 1), (0, 0), (0, 15)])
def test_days_that_are_over_turned_round_or_too_many_are_refused(shore, first, days):
    begins = MONDAY + timedelta(days=first)
    with pytest.raises(Invalid):
        proposed(shore, first_day=begins, last_day=begins + timedelta(days=days - 1))


def test_members_plan_nothing_and_strangers_find_no_plan(shore):
    plan = proposed(shore)
    member, stranger = shore.lots[0].member, StrangerFactory(role="manager")
    for by, failure in ((member, NotAllowed), (stranger, NotFound)):
        with pytest.raises(failure):
            proposed(shore, by=by)
        with pytest.raises(failure):
            accept_plan(by=by, plan=plan, now=NOW)
