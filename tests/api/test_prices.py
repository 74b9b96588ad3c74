from tests.api.dated_scene import TODAY, TOMORROW, clock, refused_fields, shore

__all__ = ["clock", "shore"]
PRICES = {"bought_minor_per_kg": 3100, "sold_minor_per_kg": 6000, "soft_minor_per_kg": 2500}


def test_fish_costs_something_else_from_a_day_on(shore):
    body = {"species": shore.species.code, "valid_from": TOMORROW, **PRICES}
    status, made = shore.ask.post("fish-prices/", body)
    assert status == 201
    assert {name: made[name] for name in PRICES} == PRICES
    [today] = shore.ask("fish-prices/", on=TODAY)[1]["results"]
    assert today["sold_minor_per_kg"] == 5500
    soft = {**body, "soft_minor_per_kg": 7000}
    assert refused_fields(shore.ask.post("fish-prices/", soft)) == ["__all__"]
    assert refused_fields(shore.ask.post("fish-prices/", {**body, "species": "XYZ"})) == ["species"]
