import pytest

from tests.api.asked import ids
from tests.factories.scene import another_vehicle, common_carton, fares, returnable_box, thin_carton


def test_filters_keep_what_they_name(departures):
    trade = departures.trade
    other = another_vehicle(trade, 9)
    fares(trade.cooperative, other.carrier, trade.route, amount_minor=900_000)
    returnable_box(trade.cooperative)
    everything = departures()
    assert everything["count"] == 4
    assert {row["carrier"]["id"] for row in departures(carrier=other.carrier_id)["results"]} == {
        other.carrier_id
    }
    assert {row["carton_design"]["slug"] for row in departures(carton_design="box")["results"]} == {"box"}
    assert departures(carton_design=["box", "common"])["count"] == 4
    dear = max(row["cost_per_kg_minor"] for row in everything["results"])
    cheap = departures(max_cost_per_kg=dear - 1)["results"]
    assert 0 < len(cheap) < 4
    assert all(row["cost_per_kg_minor"] < dear for row in cheap)
    surest = max(row["chance_hard"] for row in everything["results"])
    assert all(row["chance_hard"] >= surest for row in departures(min_chance=surest)["results"])


@pytest.mark.parametrize("word", ["true", "false"])
def test_safe_keeps_the_safe_or_the_others(departures, word):
    thin_carton(departures.trade.cooperative)
    rows = departures(safe=word, mass_kg="40")["results"]
    assert rows
    assert {row["safe"] for row in rows} == {word == "true"}


def test_what_has_no_cost_is_not_known_to_be_cheap_enough(departures):
    departures.trade.tariff.delete()
    assert departures(max_cost_per_kg=10**9)["count"] == 0


@pytest.mark.parametrize(
    ("word", "field"),
    [
        ("departs_at", "departs_at"),
        ("cost_per_kg", "cost_per_kg_minor"),
        ("chance_hard", "chance_hard"),
        ("margin_h", "margin_h"),
        ("latest_safe_departure_at", "latest_safe_departure_at"),
    ],
)
def test_an_order_holds_both_ways_with_what_has_no_value_last(departures, word, field):
    trade = departures.trade
    another_vehicle(trade, 9)
    thin_carton(trade.cooperative)
    asked = {"mass_kg": "40", "to": "2026-03-03"}
    up, down = (
        [row[field] for row in departures(ordering=order, **asked)["results"]] for order in (word, f"-{word}")
    )
    some = [value for value in up if value is not None]
    assert len(set(some)) > 1
    assert some == sorted(some)
    assert [value for value in down if value is not None] == some[::-1]
    missing = len(up) - len(some)
    assert up[len(some) :] == down[len(some) :] == [None] * missing


def test_pages_hold_each_departure_once(departures):
    days = {"to": "2026-03-08", "page_size": 3}
    pages = [departures(page=page, **days) for page in (1, 2, 3)]
    shown = [name for page in pages for name in ids(page)]
    assert len(shown) == len(set(shown)) == pages[0]["count"] == 7
    assert pages[2]["next"] is None


def test_a_carton_that_does_not_fit_the_fish_is_left_out_unless_it_is_asked_for(departures):
    tiny = common_carton(
        departures.trade.cooperative, slug="tiny", outer_length_m=0.4, outer_width_m=0.4, outer_height_m=0.4
    )
    # 6 places of at most 3.5 kg
    assert tiny.slug not in {row["carton_design"]["slug"] for row in departures()["results"]}
    assert tiny.slug in {row["carton_design"]["slug"] for row in departures(mass_kg="15")["results"]}


def test_a_vehicle_without_places_for_the_cartons_is_left_out(departures):
    trade = departures.trade
    small = another_vehicle(trade, 9, carton_places=1)
    assert departures(mass_kg="200")["results"][0]["cartons"] == 2
    assert small.carrier_id not in {row["carrier"]["id"] for row in departures(mass_kg="200")["results"]}
    assert small.carrier_id in {row["carrier"]["id"] for row in departures(mass_kg="80")["results"]}
