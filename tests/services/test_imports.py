"""Lines of a file become dated changes: the same is left alone, all or nothing, a dry run is none."""

from datetime import date, timedelta

import pytest

from coop.errors import Invalid, NotAllowed, TooLarge
from coop.models import Charge, FishPrice, MaterialPrice, Tariff, Timetable
from coop.services import imports
from coop.services.imports import take_in
from coop.services.imports_subjects import CHARGES, FARES, FISH_PRICES, MATERIAL_PRICES, TIMETABLES
from tests.factories.species import SpeciesFactory
from tests.factories.tariffs import ByStepRuleFactory, TariffStepFactory
from tests.factories.timetables import FillingTimetableFactory
from tests.services.packing_day import NOW, packing_day

pytestmark = pytest.mark.django_db
TODAY = date(2026, 3, 1)
TOMORROW = TODAY + timedelta(days=1)
SUBJECTS = {
    "fares": (FARES, Tariff),
    "fish_prices": (FISH_PRICES, FishPrice),
    "material_prices": (MATERIAL_PRICES, MaterialPrice),
    "charges": (CHARGES, Charge),
    "timetables": (TIMETABLES, Timetable),
}


@pytest.fixture
def day():
    found = packing_day()
    by_step = ByStepRuleFactory(tariff=found.tariff, position=2)
    for from_kg, amount in ((0.0, 5_000), (50.0, 9_000)):
        TariffStepFactory(rule=by_step, from_kg=from_kg, amount_minor=amount)
    FillingTimetableFactory(cooperative=found.cooperative, carrier=found.carrier, route=found.route)
    return found


def lines_of(subject, day):
    return [(f"line {number}", line) for number, line in enumerate(subject.lines(day.cooperative), start=2)]


def taken(day, subject, lines, *, dry_run=False, by=None, now=NOW):
    return take_in(by=by or day.manager, subject=subject, lines=lines, dry_run=dry_run, now=now)


def price(day, **changes):
    values = {
        "species": day.species.code,
        "valid_from": TOMORROW,
        "valid_until": None,
        "bought_minor_per_kg": 3200,
        "sold_minor_per_kg": 5500,
        "soft_minor_per_kg": 2500,
    }
    return ("line 2", values | changes)


def prices(day):
    rows = FishPrice.objects.of(day.cooperative).order_by("valid_from")
    return [(row.valid_from, row.valid_until, row.bought_minor_per_kg) for row in rows]


def refused(day, subject, lines, **options):
    with pytest.raises(Invalid) as refusal:
        taken(day, subject, lines, **options)
    return [(one.field, one.problem) for one in refusal.value.problems]


@pytest.mark.parametrize("name", SUBJECTS)
def test_what_went_out_comes_in_and_changes_nothing(day, name):
    subject, model = SUBJECTS[name]
    kept = model.history.count()
    lines = lines_of(subject, day)
    assert lines
    found = taken(day, subject, lines)
    assert {one.kind for one in found.differences} == {"same"}
    assert model.history.count() == kept


def test_a_new_price_counts_from_its_day_and_what_counted_ends_there(day):
    found = taken(day, FISH_PRICES, [price(day)])
    assert found.counts == {"new": 0, "changed": 1, "same": 0}
    assert prices(day) == [(date(2025, 1, 1), TOMORROW, 3000), (TOMORROW, None, 3200)]
    (difference,) = found.differences
    assert (difference.place, difference.name) == ("line 2", f"{day.species.code}, 2026-03-02")
    assert [(one.field, one.before, one.after) for one in difference.changes] == [
        ("bought_minor_per_kg", 3000, 3200)
    ]


def test_taken_in_twice_it_is_the_same_the_second_time(day):
    taken(day, FISH_PRICES, [price(day)])
    assert taken(day, FISH_PRICES, [price(day)]).counts == {"new": 0, "changed": 0, "same": 1}


def test_a_dry_run_tells_the_same_and_does_nothing(day):
    before, kept = prices(day), FishPrice.history.count()
    found = taken(day, FISH_PRICES, [price(day)], dry_run=True)
    assert (prices(day), FishPrice.history.count()) == (before, kept)
    assert found == taken(day, FISH_PRICES, [price(day)])


def test_a_dry_run_finds_what_only_the_service_refuses(day):
    soft = price(day, soft_minor_per_kg=9000)
    assert refused(day, FISH_PRICES, [soft], dry_run=True) == refused(day, FISH_PRICES, [soft])


def test_the_past_stays_as_it_was(day):
    late = price(day, valid_from=date(2025, 6, 1))
    assert refused(day, FISH_PRICES, [late]) == [("line 2, valid_from", "is over")]


def test_one_refused_line_keeps_all_others_out_and_every_line_is_told(day):
    other = SpeciesFactory()
    lines = [
        price(day),
        ("line 3", price(day, species=other.code, valid_from=date(2025, 1, 1))[1]),
        ("line 4", price(day, species="XXX")[1]),
    ]
    before = prices(day)
    told = refused(day, FISH_PRICES, lines)
    assert sorted(told) == [("line 3, valid_from", "is over"), ("line 4, species", "is not known here")]
    assert prices(day) == before


def test_an_end_is_written_and_taken_back(day):
    until = TODAY + timedelta(days=10)
    ((place, values),) = lines_of(FISH_PRICES, day)
    taken(day, FISH_PRICES, [(place, values | {"valid_until": until})])
    assert prices(day) == [(date(2025, 1, 1), until, 3000)]
    taken(day, FISH_PRICES, [(place, values)])
    assert prices(day) == [(date(2025, 1, 1), None, 3000)]


def test_what_is_over_goes_on_no_more(day):
    until = TODAY + timedelta(days=1)
    ((place, values),) = lines_of(FISH_PRICES, day)
    taken(day, FISH_PRICES, [(place, values | {"valid_until": until})])
    later = NOW + timedelta(days=5)
    assert refused(day, FISH_PRICES, [(place, values)], now=later)[0][0] == "line 2, valid_until"


def test_several_days_of_one_thing_follow_one_another_in_any_order(day):
    later = price(day, valid_from=TOMORROW + timedelta(days=30), bought_minor_per_kg=3400)
    taken(day, FISH_PRICES, [("line 2", later[1]), ("line 3", price(day)[1])])
    assert prices(day)[1:] == [
        (TOMORROW, TOMORROW + timedelta(days=30), 3200),
        (TOMORROW + timedelta(days=30), None, 3400),
    ]


def test_a_thing_that_is_there_twice_is_told(day):
    lines = [price(day), ("line 3", price(day)[1])]
    assert refused(day, FISH_PRICES, lines) == [("line 3, species", "is on line 2 already")]


def test_a_fare_is_taken_in_with_its_rules_and_steps(day):
    lines = [(place, line | {"valid_from": TOMORROW}) for place, line in lines_of(FARES, day)]
    lines[-1][1]["amount_minor"] = 9_500
    found = taken(day, FARES, lines)
    (difference,) = found.differences
    assert [(one.field, one.before, one.after) for one in difference.changes] == [
        ("rule 2, from 50 kg, amount_minor", 9_000, 9_500)
    ]
    new = Tariff.objects.of(day.cooperative).get(valid_from=TOMORROW)
    assert [rule.kind for rule in new.rules.all()] == ["per_carton", "by_step"]
    assert [step.amount_minor for step in new.rules.get(kind="by_step").steps.all()] == [5_000, 9_500]


@pytest.mark.parametrize(
    ("line", "change", "field"),
    [
        (1, {"valid_until": date(2026, 6, 1)}, "line 3, valid_until"),
        (2, {"minimum_minor": 5}, "line 4, minimum_minor"),
        (2, {"from_kg": None}, "line 4, from_kg"),
        (1, {"rule": 1, "kind": "per_carton", "from_kg": None}, "line 3, rule"),
        (0, {"kind": "per_seat"}, "line 2"),
        (0, {"surcharge_share": 99.0}, "line 2, surcharge_share"),
    ],
)
def test_lines_of_one_fare_agree(day, line, change, field):
    lines = [(place, values | {"valid_from": TOMORROW}) for place, values in lines_of(FARES, day)]
    lines[line][1].update(change)
    assert field in [where for where, _ in refused(day, FARES, lines)]


def test_a_timetable_is_taken_in_with_its_weekdays(day):
    (first, *_rest) = [line for _, line in lines_of(TIMETABLES, day) if not line["leaves_when_full"]]
    changed = first | {"valid_from": TOMORROW, "sunday": False}
    found = taken(day, TIMETABLES, [("line 2", changed)])
    assert [(one.field, one.before, one.after) for one in found.differences[0].changes] == [
        ("sunday", True, False)
    ]
    assert Timetable.objects.of(day.cooperative).get(valid_from=TOMORROW).weekdays == (0, 1, 2, 3, 4, 5)


def test_who_and_why_is_kept(day):
    take_in(by=day.manager, subject=FISH_PRICES, lines=[price(day)], dry_run=False, note="market", now=NOW)
    told = FishPrice.objects.of(day.cooperative).get(valid_from=TOMORROW).history.latest()
    assert (told.history_user, told.history_change_reason) == (day.manager, "market")


def test_only_a_manager_takes_in_and_a_stranger_changes_only_her_own(day):
    with pytest.raises(NotAllowed):
        taken(day, FISH_PRICES, [price(day)], by=day.packer)
    before = prices(day)
    taken(day, FISH_PRICES, [price(day)], by=day.stranger)
    assert prices(day) == before


def test_so_many_changes_at_once_and_no_more(day, monkeypatch):
    monkeypatch.setattr(imports, "MOST_CHANGES", 1)
    other = price(day, valid_from=TOMORROW + timedelta(days=1), bought_minor_per_kg=1)
    with pytest.raises(TooLarge):
        taken(day, FISH_PRICES, [price(day), ("line 3", other[1])])
    taken(day, FISH_PRICES, [price(day)])
