"""Out and in again changes nothing: the archive that comes out of what came in is the same, byte for byte."""

import json

import pytest
from django.apps import apps
from django.db import IntegrityError, transaction

from coop.errors import Conflict, Invalid, NotAllowed
from coop.models import Cooperative, Entry, Member, Parcel, Place, Plan, Quote, Stability, Tariff
from coop.selectors.archive import LEFT_OUT, tables
from coop.services.archive import archive_of, json_line, take_in_archive
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import ParcelFactory
from tests.services.archive_files import edited, packed, rows, unpacked
from tests.services.archived_day import archived_day, taken_off, triggers

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    return archived_day()


@pytest.fixture
def archive(day):
    return archive_of(by=day.manager, cooperative=day.cooperative)


@pytest.fixture
def gone(day, archive):
    """The archive of a cooperative that is not here any more."""
    taken_off(day.cooperative)
    assert not Cooperative.objects.filter(slug=day.cooperative.slug).exists()
    return archive


def counts():
    return {
        model.__name__: model._default_manager.count() for model in apps.get_app_config("coop").get_models()
    }


def test_every_table_travels_or_is_said_to_stay_behind(archive):
    everything = {model.__name__ for model in apps.get_app_config("coop").get_models()}
    assert {model.__name__ for model in tables()} | set(LEFT_OUT) == everything
    empty = [model.__name__ for model in tables() if not rows(archive, model._meta.model_name)]
    assert empty == []


def test_out_in_out_is_the_same_byte_for_byte(gone):
    before = counts()
    cooperative = take_in_archive(gone)
    assert archive_of(cooperative=cooperative) == gone
    assert counts() != before


def test_the_same_rows_make_the_same_bytes(day, archive):
    assert archive_of(cooperative=day.cooperative) == archive


def test_it_fits_between_the_rows_of_others(day, gone):
    """Numbers of rows are taken here by then, so every one of them changes."""
    others = [ParcelFactory() for _ in range(3)]
    before = [Parcel.objects.get(pk=one.pk).uuid for one in others]
    cooperative = take_in_archive(gone)
    assert archive_of(cooperative=cooperative) == gone
    assert [Parcel.objects.get(pk=one.pk).uuid for one in others] == before


def test_numbers_inside_of_texts_are_those_of_this_server(day, gone):
    CooperativeFactory()
    MemberFactory.create_batch(3)
    cooperative = take_in_archive(gone)
    owner = Member.objects.of(cooperative).get(name="Owner")
    assert owner.pk != day.owner.pk
    assert Stability.objects.of(cooperative).get().leaves == [owner.pk]
    quote, plan = Quote.objects.of(cooperative).get(), Plan.objects.of(cooperative).get()
    assert quote.figures["member"]["id"] == owner.pk
    assert quote.figures["rests_on"][0]["id"] in set(
        Tariff.objects.of(cooperative).values_list("pk", flat=True)
    )
    assert plan.proposal["cartons"][0]["parts"][0]["member"]["id"] == owner.pk


def test_the_history_comes_along_and_that_of_what_is_gone(gone):
    cooperative = take_in_archive(gone)
    tariff = Tariff.objects.of(cooperative).latest("valid_from")
    told = tariff.history.latest()
    assert (told.history_user.name, told.history_change_reason) == ("Manager", "it was a rumour")
    kept = Tariff.history.model.objects.filter(cooperative_id=cooperative.pk, history_type="-").get()
    assert kept.id < 0
    assert not Tariff.objects.filter(pk=kept.id).exists()


def test_no_secret_is_in_it_and_it_says_so(day, archive):
    text = json.dumps(unpacked(archive))
    quote = Quote.objects.of(day.cooperative).get()
    assert quote.secret_digest not in text
    assert day.manager.account.username not in text
    assert set(LEFT_OUT.values()) < set(json.loads(unpacked(archive)["manifest.json"])["left_out"])


def test_a_link_of_once_opens_nothing_where_it_came_in(day, archive):
    once = Quote.objects.get().secret_digest
    taken_off(day.cooperative)
    anew = Quote.objects.of(take_in_archive(archive)).get().secret_digest
    assert len(anew) == len(once) == 64
    assert anew != once


def test_the_database_refuses_as_before_once_it_is_in(gone):
    before = triggers()
    cooperative = take_in_archive(gone)
    assert triggers() == before
    entry = Entry.objects.of(cooperative).first()
    with pytest.raises(IntegrityError, match="entry_never_changes"), transaction.atomic():
        Entry.objects.filter(pk=entry.pk).update(amount_minor=1)


def test_a_place_that_is_here_stays_as_it_is(gone):
    place = Place.objects.first()
    Place.objects.filter(pk=place.pk).update(altitude_m=777.0)
    take_in_archive(gone)
    place.refresh_from_db()
    assert place.altitude_m == 777.0


def test_only_a_manager_takes_it_out(day):
    with pytest.raises(NotAllowed):
        archive_of(by=day.packer, cooperative=day.cooperative)


def test_where_it_is_already_nothing_comes_in(archive):
    before = counts()
    with pytest.raises(Conflict, match="here already"):
        take_in_archive(archive)
    assert counts() == before


def first(column, value):
    def change(lines):
        lines[0][column] = value

    return change


DAMAGE = {
    "a sum that does not fit": ("billline", first("amount_minor", 19_999), "share.jsonl"),
    "an entry that does not fit": ("entry", first("amount_minor", 19_000), "entry.jsonl"),
    "more fish than there is": ("part", first("mass_kg", 4000.0), "part.jsonl"),
    "a carton left open": ("parcelcarton", lambda lines: lines[0].update(CARTON_OPEN), "parcelcarton.jsonl"),
    "a value out of its range": ("carrier", first("breakdown_chance", 2.0), "carrier.jsonl"),
    "a word that is none": ("member", first("role", "queen"), "member.jsonl"),
    "a form's rule": ("terms", first("stale_after_days", 0), "terms.jsonl"),
    "half a number": ("terms", first("stale_after_days", 5.5), "terms.jsonl line 1, stale_after_days"),
    "a text for a number": ("lot", first("mass_kg", "much"), "lot.jsonl line 1, mass_kg"),
    "no date": ("member", first("joined_on", "2026-02-30"), "member.jsonl line 1, joined_on"),
    "a stranger": ("lot", first("route", ["far", "south"]), "lot.jsonl line 1"),
    "a column less": ("lot", lambda lines: lines[0].pop("note"), "lot.jsonl line 1"),
    "a column more": ("lot", first("colour", "red"), "lot.jsonl line 1"),
    "a row twice": ("carrier", lambda lines: lines.append(lines[0]), "carrier.jsonl"),
    "a row less": ("route", lambda lines: lines.clear(), "line 1"),
    "two that overlap": ("tariff", lambda lines: lines[0].update(valid_until=None), "tariff.jsonl"),
    "a history of nobody": ("historicaltariff", first("id", {"gone": 0}), "historicaltariff.jsonl line 1"),
    "another cooperative": ("cooperative", first("slug", "other"), "line 1"),
}
CARTON_OPEN = {
    "closed_at": None,
    "closed_by": None,
    "chance_hard": None,
    "gross_mass_kg": None,
    "core_temperature_c": None,
    "latest_safe_departure_at": None,
}


@pytest.mark.parametrize("damage", DAMAGE)
def test_what_does_not_fit_together_stays_out_whole(gone, damage):
    name, change, where = DAMAGE[damage]
    before, kept = counts(), triggers()
    with pytest.raises((Invalid, Conflict)) as refusal:
        take_in_archive(edited(gone, name, change))
    assert where in refusal.value.problems[0].field
    assert (counts(), triggers()) == (before, kept)


def test_a_file_that_was_changed_on_the_way_is_told(gone):
    with pytest.raises(Invalid, match=r"member\.jsonl: is not what the manifest says"):
        take_in_archive(edited(gone, "member", first("role", "manager"), honest=False))


@pytest.mark.parametrize(
    ("change", "field"),
    [
        (lambda it: it.update(format=2), "manifest.json, format"),
        (lambda it: it.update(migration="0001_first_tables"), "manifest.json, migration"),
        (lambda it: it.pop("cooperative"), "manifest.json"),
        (lambda it: it["files"].pop("lot.jsonl"), "archive"),
    ],
)
def test_an_archive_of_another_version_or_shape_is_told(gone, change, field):
    files = unpacked(gone)
    manifest = json.loads(files["manifest.json"])
    change(manifest)
    with pytest.raises(Invalid) as refusal:
        take_in_archive(packed({**files, "manifest.json": json_line(manifest)}, honest=False))
    assert refusal.value.problems[0].field == field


@pytest.mark.parametrize("cut", [b"", b"nothing", slice(0, 500), slice(0, -40)])
def test_what_is_no_archive_is_told(gone, cut):
    content = gone[cut] if isinstance(cut, slice) else cut
    with pytest.raises(Invalid, match="archive"):
        take_in_archive(content)
