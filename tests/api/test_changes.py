"""What all dated subjects share: who changed what when is kept, and a sum of money moves on its day."""

from api.changes import ChangeIn, ConfirmedChangeIn, EndIn, NoteIn
from tests.api.dated_scene import TODAY, TOMORROW, clock, refused_fields, shore

__all__ = ["clock", "shore"]


def test_the_bodies_share_their_words():
    assert set(ChangeIn().fields) < set(ConfirmedChangeIn().fields)
    assert set(NoteIn().fields) < set(EndIn().fields)


def test_todays_cost_stays_and_tomorrows_moves(shore):
    asked = {
        "route": "south", "carrier": shore.carrier.pk, "carton_design": "common",
        "species": shore.species.code, "mass_kg": "60",
    }  # fmt: skip

    def total(day):
        return shore.ask("cost/", **asked, on=day)[1]["total_minor"]

    before = total(TODAY)
    assert total(TOMORROW) == before
    rules = [{"kind": "per_carton", "amount_minor": 35_000}]
    fare = {"carrier": shore.carrier.pk, "route": "south", "valid_from": TOMORROW, "rules": rules}
    assert shore.ask.post("tariffs/", fare)[0] == 201
    # The fare of the trade is 30 000 a carton, and 60 kg are one carton.
    assert (total(TODAY), total(TOMORROW)) == (before, before + 5_000)


def test_a_note_is_not_longer_than_anybody_reads(shore):
    body = {"valid_from": TOMORROW, "confidence": 0.9, "note": "x" * 501}
    assert refused_fields(shore.ask.post("terms/", body)) == ["note"]
