from itertools import pairwise

import pytest

from api.departure_in_full_shapes import DepartureInFullOut
from tests.api.asked import fields_of, name_of, of_list, of_one
from tests.api.test_openapi import differences
from tests.factories.buyers import BuyerFactory
from tests.factories.scene import common_carton, returnable_box
from tests.factories.species import SpeciesFactory


@pytest.fixture
def departure(ask, ours_trading):
    """Asks for the Monday's departure; answers with the whole body of a good answer."""

    def get(design=None, **changes):
        name = name_of(ours_trading, design=design)
        status, answer = ask(f"departures/{name}/", **of_one(ours_trading, **changes))
        assert status == 200, answer
        return answer

    get.trade = ours_trading
    return get


def never_rises(values):
    return all(later <= earlier for earlier, later in pairwise(values))


def never_falls(values):
    return never_rises([-value for value in values])


def test_an_answer_has_exactly_what_is_described(departure):
    assert differences(DepartureInFullOut(), departure()) == []


def test_it_says_the_same_as_the_list(departure, ask):
    [listed] = ask("departures/", **of_list(departure.trade))[1]["results"]
    in_full = departure()
    assert {name: in_full[name] for name in listed} == listed


def test_curves_are_as_long_as_their_hours(departure):
    curve = departure()["curve"]
    lists = [*curve["best"].values(), *curve["cautious"].values()]
    lists += [curve[name] for name in ("air_c", "top_c", "side_c", "bottom_c")]
    assert {len(values) for values in lists} == {len(curve["hours"])}
    assert curve["hours"][:3] == [0.0, 0.5, 1.0]


def test_fish_only_warms_and_the_cautious_carton_is_never_the_colder_one(departure):
    curve = departure()["curve"]
    for name in ("mean_c", "softened_share"):
        best, cautious = ([v for v in curve[wall][name] if v is not None] for wall in ("best", "cautious"))
        assert never_falls(best)
        assert all(poor >= good for good, poor in zip(best, cautious, strict=False))


def test_the_limit_asked_for_comes_first_and_holds_as_the_curve_says(departure):
    curve = departure(limit="softened_share:0.02")["curve"]
    first, *others = curve["limits"]
    assert (first["kind"], first["value"], first["chosen"]) == ("softened_share", 0.02, True)
    assert not any(one["chosen"] for one in others)
    for wall in ("best", "cautious"):
        read = zip(curve["hours"], curve[wall]["softened_share"], strict=True)
        passed = next(hour for hour, share in read if share is not None and share > 0.0201)
        # Read between two half hours, and rounded down to a tenth.
        assert passed - 0.6 <= first[f"hold_{wall}_h"] <= passed


def test_the_hours_of_the_journey_are_marked_on_the_curve(departure):
    answer = departure()
    curve = answer["curve"]
    assert curve["closes_at"] == answer["closes_at"]
    assert curve["departs_h"] == pytest.approx(40 / 60, abs=0.01)
    hours = curve["handover_h"]
    assert curve["departs_h"] < hours["p10"] <= hours["p50"] <= hours["p90"]
    assert curve["latest_departure_h"] >= curve["departs_h"]


def test_an_unsafe_departure_marks_no_latest_hour(departure):
    answer = departure(limit="core_c:-20")
    assert answer["curve"]["latest_departure_h"] is None
    assert answer["latest_safe_departure_at"] is None


def test_leaving_later_is_never_likelier_to_arrive_hard(departure):
    chances = departure()["chances"]
    assert never_rises([one["chance_hard"] for one in chances])
    assert [one["departs_at"] for one in chances] == sorted(one["departs_at"] for one in chances)


def test_the_strip_goes_from_the_first_place_to_the_last(departure):
    first, last = departure()["strip"]
    route = departure.trade.route
    assert (first["place"], first["km"], first["arrives_at"]) == (route.origin.name, 0.0, None)
    assert (last["place"], last["km"], last["leaves_at"]) == (route.destination.name, 200.0, None)
    assert first["leaves_at"] == "2026-03-02T16:00:00+02:00"
    assert first["leaves_at"] < last["arrives_at"]
    assert (first["carries"], last["carries"]) == ("roof", "wait_shade")


def test_the_lines_of_the_bill_sum_to_the_total_of_the_list(departure):
    answer = departure()
    cost = answer["cost"]
    assert sum(line["amount_minor"] for line in cost["lines"]) == cost["total_minor"] == answer["cost_minor"]
    assert cost["per_kg_minor"] == answer["cost_per_kg_minor"]
    for line in cost["lines"]:
        assert line["name"]
        assert line["amount_minor"] == pytest.approx(line["quantity"] * line["rate_minor"], abs=1)


def test_a_bill_with_a_missing_price_is_none(departure):
    departure.trade.tariff.delete()
    answer = departure()
    assert answer["cost"] is None
    assert answer["cost_missing"]


def test_the_packing_sheet_is_that_of_the_carton(departure):
    packing = departure()["packing"]
    assert packing["outer_m"] == [1.0, 0.7, 0.7]
    assert set(packing["faces_m"].values()) == {0.1}
    length, width, height = packing["fish_m"]
    # Fish, fill and the walls stand one on the other: 0.7 m less two sheets of board of 5 mm.
    assert height + packing["fill_above_m"] + 0.2 == pytest.approx(0.69, abs=2e-4)
    assert (length, width) == (0.79, 0.49)
    assert packing["mass_kg"] == pytest.approx(length * width * height * 530, abs=0.1)


def test_what_is_bought_is_for_all_cartons(departure):
    one, two = departure()["packing"], departure(mass_kg="160")["packing"]
    assert (one["cartons"], two["cartons"]) == (1, 2)
    assert two["mass_kg"] == 2 * two["mass_in_one_kg"] == 160
    for single, double in zip(one["buy"], two["buy"], strict=True):
        assert double["quantity"] == 2 * single["quantity"]
        assert double["amount_minor"] == 2 * single["amount_minor"]


def test_a_carton_of_another_design_is_another_departure(departure):
    box = returnable_box(departure.trade.cooperative)
    assert departure(design=box)["carton_design"]["returnable"]


def test_histamine_is_warned_of_where_the_family_carries_it(departure):
    usual = ["estimate", "local_rule", "no_refreeze", "clean_bags"]
    assert departure()["cautions"] == usual
    sardine = SpeciesFactory(histamine_prone=True)
    assert departure(species=sardine.code)["cautions"] == [*usual, "histamine"]


def test_a_closing_that_misses_the_vehicle_is_still_answered(departure):
    answer = departure(closes_at="2026-03-02T15:50:00+02:00")
    assert answer["reason"]["code"] == "misses_departure"
    assert answer["closes_at"] == "2026-03-02T15:50:00+02:00"
    # The curve is that of a carton closed just in time: there is no other to draw.
    assert answer["curve"]["closes_at"] == "2026-03-02T15:20:00+02:00"


@pytest.mark.parametrize(
    "name",
    [
        "{pk}-20260302-no-such-carton",
        "{pk}-20260302",
        "{pk}-20260231-common",
        "{pk}-2026302-common",
        "{pk}-00010101-common",
        "{pk}-99991231-common",
        "{pk}-20240302-common",
        "999999-20260302-common",
        "99999999999999999999-20260302-common",
        "common",
        "-",
        "0-00000000-0",
    ],
)
def test_what_is_not_a_departure_of_ours_is_missing(ask, ours_trading, name):
    name = name.format(pk=ours_trading.timetable.pk)
    status, answer = ask(f"departures/{name}/", **of_one(ours_trading))
    assert (status, answer["error"]["code"]) == (404, "not_found")


def test_a_departure_of_strangers_does_not_exist(ask, ours_trading, theirs_trading):
    theirs = name_of(theirs_trading)
    assert ask(f"departures/{theirs}/", **of_one(ours_trading))[0] == 404
    mixed = name_of(theirs_trading, design=ours_trading.design)
    assert ask(f"departures/{mixed}/", **of_one(ours_trading))[0] == 404


@pytest.mark.parametrize(
    ("changes", "field", "value"),
    [
        ({"species": None}, "species", None),
        ({"mass_kg": "604"}, "mass_kg", "604.0"),
        ({"mass_kg": "5"}, "mass_kg", "5.0"),
        ({"mass_kg": "nan"}, "mass_kg", "nan"),
        ({"start_temperature_c": "40"}, "start_temperature_c", "40.0"),
        ({"buyer": "elsewhere"}, "buyer", "elsewhere"),
        ({"closes_at": "2026-03-02T16:30:00+02:00"}, "closes_at", "2026-03-02T16:30:00+02:00"),
        ({"deliver_by": "2026-03-01T10:00:00+02:00"}, "deliver_by", "2026-03-01T10:00:00+02:00"),
        ({"limit": "core_c"}, "limit", "core_c"),
        ({"confidence": "0"}, "confidence", "0"),
        ({"route": "south"}, "route", "south"),
        ({"from": "2026-03-02"}, "from", "2026-03-02"),
        ({"page": "1"}, "page", "1"),
    ],
)
def test_what_cannot_be_answered_is_refused_by_its_field_and_value(ask, ours_trading, changes, field, value):
    BuyerFactory(cooperative=ours_trading.cooperative, slug="elsewhere")
    status, answer = ask(f"departures/{name_of(ours_trading)}/", **of_one(ours_trading, **changes))
    assert status == 400
    assert (field, value) in fields_of(answer)
    assert all(one["right"] for one in answer["error"]["fields"])


def test_a_carton_with_a_hyphen_in_its_name_is_found(departure):
    design = common_carton(departure.trade.cooperative, slug="thick-20260101-walls")
    assert departure(design=design)["carton_design"]["slug"] == "thick-20260101-walls"
