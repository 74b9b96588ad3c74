"""A parcel that did not leave: every balance is what it was before, and nothing that was written changed."""

from datetime import timedelta

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import BillLine, Entry, Parcel, ParcelCarton, Part, Share
from coop.selectors.split import split_of
from coop.selectors.statements import balance_of
from coop.services.bills import bill_to_write, write_bill
from coop.services.calling_off import call_off_parcel
from coop.services.claims import raise_claim
from coop.services.closing import close_carton, record_departure
from coop.services.corrections import correct_bill
from coop.services.lots import offer_lot
from coop.services.parcels import join_parcel, open_parcel
from coop.services.payments import correct_entry
from coop.services.settling import settle_parcel
from tests.factories.entries import EntryFactory
from tests.factories.members import MemberFactory, StrangerFactory
from tests.factories.parcels import DEPARTS_AT, PartFactory, closed, departed, handed_over, settled
from tests.selectors.shared_carton import SHORT_WAY, shared_carton
from tests.services.at_once import at_once
from tests.services.packing_day import CLOSES_AT, lot, packing_day

WHY = "The minibus did not come."
EVENING = DEPARTS_AT + timedelta(hours=3)


@pytest.fixture
def scene(db):
    """A closed parcel of three members with its bill written."""
    found = shared_carton(20.0, 35.0, 45.0, leg=SHORT_WAY)
    found.packer = MemberFactory(cooperative=found.shore.cooperative, name="Packer", role="packer")
    split = bill_to_write(found.parcel)
    closed(found.parcel, closed_by=found.packer)
    write_bill(found.parcel, split, by=found.packer, at=found.parcel.closed_at)
    return found


def call_off(scene, **changes):
    wanted = {"by": scene.packer, "parcel": scene.parcel, "note": WHY, "now": EVENING}
    return call_off_parcel(**(wanted | changes))


def balances(scene):
    return [balance_of(member) for member in scene.members]


def later_cost(scene, amount):
    return correct_bill(
        by=scene.packer, parcel=scene.parcel, amount_minor=amount, note="shavings", at=EVENING
    )


def written_rows():
    """Everything that was written at closing, and each line of the accounts."""
    return {model: {row["id"]: row for row in model.objects.values()} for model in KEPT}


KEPT = (BillLine, Share, Entry, Part, ParcelCarton)


def test_it_says_when_and_why_it_was_called_off(scene):
    parcel = call_off(scene)
    assert (parcel.state, parcel.called_off_at, parcel.called_off_note) == ("called_off", EVENING, WHY)
    assert Parcel.objects.get(pk=parcel.pk).state == "called_off"


def test_nobody_owes_its_bill_any_more(scene):
    assert all(balances(scene))
    call_off(scene)
    assert balances(scene) == [0, 0, 0]


def test_what_was_spread_over_the_bill_before_is_taken_back_with_it(scene):
    later_cost(scene, 3100)
    later_cost(scene, -500)
    call_off(scene)
    assert balances(scene) == [0, 0, 0]


def test_every_line_is_taken_back_by_one_that_names_it_and_says_why(scene):
    later_cost(scene, 3100)
    lines = {entry.pk: entry for entry in Entry.objects.all()}
    call_off(scene)
    taken_back = Entry.objects.exclude(pk__in=lines)
    assert {entry.corrects_id for entry in taken_back} == set(lines)
    for entry in taken_back:
        line = lines[entry.corrects_id]
        assert (entry.kind, entry.amount_minor) == ("correction", -line.amount_minor)
        assert (entry.member_id, entry.parcel_id) == (line.member_id, line.parcel_id)
        assert (entry.written_by, entry.written_at, entry.note) == (scene.packer, EVENING, WHY)


def test_nothing_that_was_written_changes(scene):
    before, bill = written_rows(), split_of(scene.parcel).bill_minor
    parcel = call_off(scene)
    after = written_rows()
    for model in KEPT:
        assert {key: after[model].get(key) for key in before[model]} == before[model]
    assert split_of(parcel).bill_minor == bill > 0


def test_lines_of_other_parcels_and_payments_stay(scene):
    member, own = scene.members[0], {"cooperative": scene.shore.cooperative, "written_by": scene.packer}
    paid = EntryFactory(**own, member=member, kind="payment", amount_minor=-700)
    other = PartFactory(carton__parcel__cooperative=scene.shore.cooperative).carton.parcel
    EntryFactory(**own, member=member, kind="share", amount_minor=900, parcel=other)
    call_off(scene)
    assert balances(scene) == [200, 0, 0]
    assert not paid.corrections.exists()


def test_a_share_of_nothing_is_not_taken_back(scene):
    """A line of nought would only make an account longer."""
    own = {"cooperative": scene.shore.cooperative, "written_by": scene.packer}
    member = MemberFactory(cooperative=scene.shore.cooperative)
    EntryFactory(**own, member=member, kind="share", amount_minor=0, parcel=scene.parcel)
    call_off(scene)
    assert not Entry.objects.filter(member=member, kind="correction").exists()


def test_what_was_spent_all_the_same_is_shared_afterwards(scene):
    call_off(scene)
    later_cost(scene, 4500)
    assert sum(balances(scene)) == 4500
    assert all(balance > 0 for balance in balances(scene))


def test_a_line_that_took_another_back_is_not_taken_back_itself(scene):
    call_off(scene)
    entry = Entry.objects.filter(corrects__isnull=False).first()
    with pytest.raises(Invalid, match="not taken back"):
        correct_entry(by=scene.packer, entry=entry, note="it left after all")


@pytest.mark.parametrize("steps", [(departed,), (departed, handed_over), (departed, handed_over, settled)])
def test_what_left_is_not_called_off(scene, steps):
    for step in steps:
        step(scene.parcel)
    before = Entry.objects.count()
    with pytest.raises(Conflict) as refusal:
        call_off(scene)
    [wrong] = refusal.value.problems
    assert (wrong.field, wrong.value) == ("parcel", str(scene.parcel.uuid))
    assert (wrong.problem, wrong.right) == (f"is {scene.parcel.state}", "a parcel that is closed")
    assert Entry.objects.count() == before


@pytest.mark.django_db
def test_what_is_still_open_is_not_called_off():
    day = packing_day()
    with pytest.raises(Conflict, match="once it is closed"):
        call_off(day)


def test_it_is_called_off_once(scene):
    call_off(scene)
    with pytest.raises(Conflict, match="before it leaves"):
        call_off(scene)
    assert balances(scene) == [0, 0, 0]


def test_only_who_packs_for_this_cooperative_calls_off(scene):
    for by, refusal in ((scene.members[0], NotAllowed), (StrangerFactory(role="manager"), NotFound)):
        with pytest.raises(refusal):
            call_off(scene, by=by)
    assert all(balances(scene))


@pytest.mark.parametrize("note", ["", " \n"])
def test_whoever_calls_off_says_why(scene, note):
    with pytest.raises(Invalid) as refusal:
        call_off(scene, note=note)
    [wrong] = refusal.value.problems
    assert (wrong.field, wrong.value, wrong.right) == ("note", note, "why it did not leave")
    assert Parcel.objects.get(pk=scene.parcel.pk).state == "closed"


def test_a_phone_that_closed_it_with_a_clock_ahead_is_no_hindrance(scene):
    parcel = call_off(scene, now=scene.parcel.closed_at - timedelta(minutes=4))
    assert parcel.called_off_at == parcel.closed_at


def test_it_neither_leaves_nor_is_settled_nor_claimed_for(scene):
    call_off(scene)
    terms = {"by": scene.packer, "parcel": Parcel.objects.get(pk=scene.parcel.pk)}
    claiming = {"kind": "lost", "parts": [(scene.members[0], 100)]}
    for step in (
        lambda: record_departure(**terms, departed_at=EVENING, now=EVENING),
        lambda: settle_parcel(**terms, received_minor=None, at=EVENING),
        lambda: raise_claim(**terms, **claiming, at=EVENING),
    ):
        with pytest.raises(Conflict):
            step()


@pytest.mark.django_db
def test_its_fish_is_offered_again_and_its_place_taken_by_the_next():
    day = packing_day()
    type(day.carrier).objects.filter(pk=day.carrier.pk).update(carton_places=1)
    mine = lot(day, mass_kg=80.0)
    PartFactory(carton=day.parcel.cartons.get(), lot=mine)
    close_carton(by=day.packer, carton=day.parcel.cartons.get(), now=CLOSES_AT)
    call_off(day, now=CLOSES_AT)
    again = offer_lot(
        by=day.owner,
        route=day.route,
        buyer=day.buyer,
        species=day.species,
        mass_kg=80.0,
        frozen_since=mine.frozen_since,
        ready_at=CLOSES_AT,
        start_temperature_c=-18.0,
        now=CLOSES_AT,
    )
    opening = {
        "timetable": day.timetable,
        "date": DEPARTS_AT.date(),
        "design": day.design,
        "buyer": day.buyer,
    }
    parcel = open_parcel(by=day.packer, **opening, now=CLOSES_AT)
    assert join_parcel(by=day.owner, parcel=parcel, lot=again, now=CLOSES_AT).mass_kg == 80.0


def test_of_two_who_call_it_off_at_once_one_does(file_database):
    day = packing_day()
    PartFactory(carton=day.parcel.cartons.get(), lot=lot(day, mass_kg=80.0))
    close_carton(by=day.packer, carton=day.parcel.cartons.get(), now=CLOSES_AT)
    answers = at_once(*(2 * [lambda: call_off(day)]))
    assert sum(isinstance(answer, Conflict) for answer in answers) == 1
    assert balance_of(day.owner) == 0
    assert Entry.objects.filter(kind="correction").count() == 1
