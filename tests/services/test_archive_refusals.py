"""What a trigger would have refused does not come in by an archive either.

Whether a damage really is what a trigger speaks of is asked of the database itself: its own condition finds a
row more once the damaged rows lie there.
"""

import re

import pytest
from django.db import connection

from coop.errors import Invalid
from coop.services import archive as archives
from coop.services import archive_rows
from coop.services.archive import archive_of, take_in_archive
from tests.services.archive_damages import ALL, HELD, OVERLAPPING, a_correction_for_another, again, half_a_lot
from tests.services.archive_files import changed
from tests.services.archived_day import archived_day, taken_off, triggers
from tests.services.test_archive import counts

pytestmark = pytest.mark.django_db
STEPS = {
    "bill_line_never_changes",
    "bill_line_never_vanishes",
    "carton_begins_open",
    "carton_closed_never_changes",
    "carton_closed_never_vanishes",
    "carton_design_in_use_stays_as_it_is",
    "carton_stays_in_its_parcel",
    "claim_begins_undecided",
    "claim_decided_stays",
    "claim_part_of_a_decided_claim_stays",
    "claim_stays_with_its_parcel",
    "design_material_in_use_stays_as_it_is",
    "entry_never_changes",
    "entry_never_vanishes",
    "lot_in_a_carton_stays_as_it_is",
    "lot_promised_stays_as_it_is",
    "parcel_begins_open",
    "parcel_call_off_stays",
    "parcel_closed_never_vanishes",
    "parcel_closing_stays",
    "parcel_departure_stays",
    "parcel_goes_forward",
    "parcel_hand_over_stays",
    "parcel_settlement_stays",
    "parcel_with_fish_stays_as_it_is",
    "part_of_a_closed_carton_stays",
    "plan_accepted_stays",
    "quote_answered_stays",
    "quote_begins_issued",
    "quote_figures_never_change",
    "quote_never_vanishes",
    "quote_of_a_withdrawn_lot",
    "quote_parcel_stays",
    "quote_question_never_changes",
    "quote_question_never_vanishes",
    "share_never_changes",
    "share_never_vanishes",
    "stability_never_changes",
    "stability_never_vanishes",
    "supply_never_changes",
}
"""What they say of how a row may change says nothing of one that only lies there."""


@pytest.fixture
def gone():
    """The archive of a cooperative that is not here any more: one parcel is billed, one fills."""
    day = archived_day()
    archive = archive_of(cooperative=day.cooperative)
    taken_off(day.cooperative)
    return archive


@pytest.mark.parametrize("name", ALL)
def test_what_a_trigger_would_have_refused_stays_out_and_its_row_is_named(gone, name):
    change, where, words = ALL[name]
    before, kept = counts(), triggers()
    with pytest.raises(Invalid) as refusal:
        take_in_archive(changed(gone, change))
    told = [(one.field, f"{one.value} {one.problem}") for one in refusal.value.problems]
    assert any(where in field and words in said for field, said in told), told
    assert (counts(), triggers()) == (before, kept)


def conditions(trigger):
    """(table, condition) of what the database itself looks at, for rows that lie there."""
    found = {}
    for name, sql in triggers():
        event = name.rpartition("_")[2]
        if name.startswith(trigger.partition(",")[0]) and event != "delete":
            found[event] = re.search(r"BEFORE .*? ON (\w+) WHEN (.*) BEGIN SELECT", sql, re.DOTALL).groups()
    # A row counts itself where it is not written yet; of one that lies there the other form speaks.
    return found.get("update") or found["insert"]


def rows_refused(trigger):
    table, condition = conditions(trigger)
    with connection.cursor() as cursor:
        cursor.execute(
            f"SELECT COUNT(*) FROM {table} AS NEW JOIN {table} AS OLD ON OLD.id = NEW.id WHERE {condition}"
        )
        return cursor.fetchone()[0]


# Their condition speaks of the moment of closing: it finds whatever was billed later than that.
OF_A_MOMENT = {name for name in HELD if name.endswith("_as_the_parcel_closes")}
# It looks at the step from open to closed, which a row that lies there does not take.
OF_A_STEP = {"parcel_closes_with_its_cartons", "carton_of_an_open_parcel"}


@pytest.mark.parametrize("name", sorted(set(ALL) - OF_A_MOMENT - OF_A_STEP))
def test_the_database_itself_would_refuse_the_damaged_row_and_no_other(gone, name, monkeypatch):
    if connection.vendor != "sqlite":
        pytest.skip("conditions are read from the triggers of SQLite")
    monkeypatch.setattr(archives, "require_sound", lambda _arrival: None)
    monkeypatch.setattr(archive_rows, "require_apart", lambda _model, _rows: None)
    taken_off(take_in_archive(gone))
    take_in_archive(changed(gone, ALL[name][0]))
    assert rows_refused(name) > 0


@pytest.mark.parametrize("name", sorted(set(ALL) - OF_A_MOMENT - OF_A_STEP))
def test_of_an_archive_as_it_went_out_the_database_would_refuse_nothing(gone, name):
    if connection.vendor != "sqlite":
        pytest.skip("conditions are read from the triggers of SQLite")
    take_in_archive(gone)
    assert rows_refused(name) == 0


def test_of_every_trigger_it_is_known_how_an_archive_keeps_to_it():
    """A new one belongs into HELD with a damage, or into STEPS; strangers have no way in, see below."""
    names = {name.rpartition("_")[0] for name, _ in triggers()}
    whose = {name for name in names if name.endswith(("_of_its_cooperative", "_stays_with_its_cooperative"))}
    held = {name.partition(",")[0] for name in ALL}
    if connection.vendor == "postgresql":
        # There an overlap is a constraint of its table.
        held -= set(OVERLAPPING)
    assert names - whose == held | STEPS


def test_a_row_of_another_cooperative_has_no_way_in(gone):
    def another_cooperative(tables):
        again(tables["cooperative"], slug="other")

    def a_strange_lot(tables):
        tables["lot"][1]["cooperative"] = ["other"]

    def both(tables):
        another_cooperative(tables)
        a_strange_lot(tables)

    before = counts()
    for change, words in (
        (another_cooperative, "names another cooperative"),
        (a_strange_lot, "names no cooperative of this archive"),
        (both, "belongs to another cooperative"),
    ):
        with pytest.raises(Invalid, match=words):
            take_in_archive(changed(gone, change))
    assert counts() == before


def test_several_are_told_at_once(gone):
    def change(tables):
        half_a_lot(tables)
        a_correction_for_another(tables)

    with pytest.raises(Invalid) as refusal:
        take_in_archive(changed(gone, change))
    assert {one.field for one in refusal.value.problems} == {"lot.jsonl line 1", "entry.jsonl line 2"}
    assert "1 more" in refusal.value.message
