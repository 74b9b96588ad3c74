import pytest

from api import csv_rows
from api.callers import LIMITS
from api.csv_subjects import SUBJECTS as COLUMNS
from api.imports import TakenInOut
from coop.models import FishPrice, RuleKind, Timetable
from coop.models.charges import ChargeBasis, ChargeKind
from coop.models.timetables import WEEKDAYS
from tests.api.feeds import zipped
from tests.api.files import SUBJECTS, Files, everything, full_trade
from tests.api.packing_scene import clock
from tests.api.test_openapi import differences

__all__ = ["clock"]

HEADER = "species,valid_from,valid_until,bought_zmw_per_kg,sold_zmw_per_kg,soft_zmw_per_kg"


@pytest.fixture
def trade(clock, ours_trading):
    return full_trade(ours_trading)


@pytest.fixture
def files(manager, trade):
    return Files(manager)


def price(trade, bought="32.50", day="2026-03-02"):
    return f"{HEADER}\n{trade.species.code},{day},,{bought},55,25\n"


def test_a_dry_run_is_what_happens_unless_it_is_said(files, trade):
    before = everything()
    status, body = files.take("fish_prices", price(trade))
    assert (status, body["dry_run"], body["counts"]) == (200, True, {"new": 0, "changed": 1, "same": 0})
    assert everything() == before


def test_it_is_done_when_it_is_said_and_the_differences_are_the_same(files, trade):
    _, told = files.take("fish_prices", price(trade))
    status, done = files.take("fish_prices", price(trade), dry_run="no")
    assert status == 200
    assert done == told | {"dry_run": False}
    assert FishPrice.objects.of(trade.cooperative).get(valid_until=None).bought_minor_per_kg == 3250


def test_a_difference_says_line_and_values_as_the_file_has_them(files, trade):
    _, body = files.take("fish_prices", price(trade))
    assert body["differences"] == [
        {
            "line": "line 2",
            "kind": "changed",
            "name": f"{trade.species.code}, 2026-03-02",
            "changes": [{"field": "bought_zmw_per_kg", "before": "30.00", "after": "32.50"}],
        }
    ]
    assert differences(TakenInOut(), body) == []


def test_a_semicolon_goes_with_a_decimal_comma(files, trade):
    content = "\ufeff" + price(trade, bought="32.50").replace(",", ";").replace(".", ",")
    status, body = files.take("fish_prices", content)
    assert (status, body["differences"][0]["changes"][0]["after"]) == (200, "32.50")


@pytest.mark.parametrize(
    ("content", "field", "value"),
    [
        (lambda it: price(it, bought="cheap"), "line 2, bought_zmw_per_kg", "cheap"),
        (lambda it: price(it, bought="32.505"), "line 2, bought_zmw_per_kg", "32.505"),
        (lambda it: price(it, day="2026-02-01"), "line 2, valid_from", "2026-02-01"),
        (lambda it: price(it).replace(it.species.code, "XXX"), "line 2, species", "XXX"),
        (lambda it: price(it).replace(",55,", ",5,"), "line 2", None),
        (lambda it: price(it).replace("bought_zmw", "bought_usd"), "line 1, bought_usd_per_kg", None),
    ],
)
def test_a_refusal_names_line_and_column_as_the_file_has_them(files, trade, content, field, value):
    before = everything()
    status, body = files.take("fish_prices", content(trade), dry_run="no")
    assert status == 400
    (first, *_) = body["error"]["fields"]
    assert first["field"] == field
    assert value is None or first["value"] == value
    assert first["right"]
    assert everything() == before


@pytest.mark.parametrize("query", [{"dry_run": "maybe"}, {"dryrun": "no"}, {"dry_run": ""}])
def test_a_question_that_is_not_known_does_nothing(files, trade, query):
    before = everything()
    assert files.take("fish_prices", price(trade), **query)[0] == 400
    assert everything() == before


def test_another_subject_is_nowhere_and_another_form_is_not_read(files, trade):
    assert files.take("quotes", price(trade))[0] == 404
    assert files.take("fish_prices", "{}", form="application/json")[0] == 415
    assert files.take("fish_prices", price(trade), form="text/plain")[0] == 415


def test_a_file_without_anything_in_it_is_told(files):
    answer = files.client.generic("POST", "/api/v1/imports/fish_prices/", b"", CONTENT_TYPE="text/csv")
    assert answer.status_code == 400
    assert answer.json()["error"]["fields"][0]["field"] == "file"


def test_a_file_that_is_too_long_is_refused(files, trade, monkeypatch):
    assert files.take("fish_prices", "x" * (csv_rows.MOST_BYTES + 1))[0] == 413


def test_so_many_files_in_a_while_and_no_more(files, trade, monkeypatch):
    monkeypatch.setitem(LIMITS, "imports", (2, 600))
    assert [files.take("fish_prices", price(trade))[0] for _ in range(3)] == [200, 200, 429]


@pytest.mark.parametrize("subject", SUBJECTS)
@pytest.mark.parametrize("separator", ["comma", "semicolon"])
def test_what_goes_out_comes_in_again_and_changes_nothing(files, subject, separator):
    before = everything()
    status, body = files.take(subject, files.fetch(subject, separator=separator), dry_run="no")
    assert status == 200
    assert body["counts"]["same"] > 0
    assert body["counts"] == {"new": 0, "changed": 0, "same": body["counts"]["same"]}
    assert everything() == before


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_subject_that_goes_out_comes_in(subject):
    assert subject in COLUMNS
    assert len(COLUMNS) == len(SUBJECTS)


def test_words_of_a_file_are_those_of_what_is_stored(ours):
    def words(subject, name):
        return next(column for column in COLUMNS[subject].columns(ours) if column.name == name).words

    assert set(words("fares", "kind")) == set(RuleKind.values)
    assert set(words("charges", "kind")) == set(ChargeKind.values)
    assert set(words("charges", "basis")) == set(ChargeBasis.values)
    names = [column.name for column in COLUMNS["timetables"].columns(ours)]
    assert [name for name in names if name in WEEKDAYS] == list(WEEKDAYS)


def of_feed(trade, **changes):
    wanted = {"route": trade.route.slug, "carrier": trade.carrier.pk, "from_stop": "park", "trips": "bus"}
    return wanted | changes


def test_a_feed_is_told_first_and_done_then(files, trade):
    before = everything()
    status, told = files.feed(zipped(), **of_feed(trade))
    assert (status, told["dry_run"]) == (200, True)
    assert everything() == before
    status, done = files.feed(zipped(), **of_feed(trade, dry_run="no"))
    assert done == told | {"dry_run": False}
    assert Timetable.objects.of(trade.cooperative).filter(departs_at_local="01:30").get().weekdays == (6,)


def test_a_window_of_a_feed_is_a_vehicle_that_leaves_when_full(files, trade):
    status, _ = files.feed(
        zipped(), **of_feed(trade, trips="taxi", dry_run="no", seats_left=12, riders_per_hour=6)
    )
    assert status == 200
    rows = (
        Timetable.objects.of(trade.cooperative).filter(valid_until="2027-01-01").order_by("departs_at_local")
    )
    found = [(f"{row.departs_at_local:%H:%M}", row.leaves_when_full) for row in rows]
    assert found == [(hour, False) for hour in ("08:00", "08:30", "09:00", "09:30")] + [("12:00", True)]


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"route": "north"}, "route"),
        ({"carrier": 999_999}, "carrier"),
        ({"from_stop": "nowhere"}, "from_stop"),
        ({"trips": "tram"}, "trips"),
        ({"seats_left": 0}, "seats_left"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_what_a_feed_is_asked_for_is_checked(files, trade, changes, field):
    status, body = files.feed(zipped(), **of_feed(trade, **changes))
    assert (status, body["error"]["fields"][0]["field"]) == (400, field)


def test_a_feed_of_another_time_zone_is_refused(files, trade):
    trade.cooperative.time_zone = "Africa/Nairobi"
    trade.cooperative.save()
    status, body = files.feed(zipped(), **of_feed(trade))
    assert (status, body["error"]["fields"][0]["field"]) == (400, "agency.txt, agency_timezone")
