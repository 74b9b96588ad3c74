from tests.api.dated_scene import TODAY, TOMORROW, clock, refused_fields, shore

__all__ = ["clock", "shore"]


def test_a_material_costs_something_else_from_a_day_on(shore):
    [used] = [row.material for row in shore.design.materials.filter(use="carton")]
    body = {"material": used.slug, "valid_from": TOMORROW, "amount_minor": 2600}
    status, made = shore.ask.post("material-prices/", body)
    assert (status, made["amount_minor"], made["material"]["slug"]) == (201, 2600, used.slug)
    shown = [
        row["amount_minor"]
        for day in (TODAY, TOMORROW)
        for row in shore.ask("material-prices/", material=used.slug, on=day)[1]["results"]
    ]
    assert shown == [2500, 2600]
    assert refused_fields(shore.ask.post("material-prices/", {**body, "material": "gold"})) == ["material"]
