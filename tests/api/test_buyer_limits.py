from tests.api.dated_scene import TOMORROW, clock, refused_fields, shore

__all__ = ["clock", "shore"]


def test_a_buyer_accepts_something_else_from_a_day_on(shore, clock):
    body = {"buyer": "market", "valid_from": TOMORROW, "limit_kind": "core_c", "limit_value": -5}
    status, made = shore.ask.post("buyer-limits/", body)
    assert (status, made["limit_kind"], made["limit_value"]) == (201, "core_c", -5.0)
    assert shore.ask("buyers/market/")[1]["limit_kind"] == "softened_share"
    clock(24)
    shown = shore.ask("buyers/market/")[1]
    assert (shown["limit_kind"], shown["limit_value"]) == ("core_c", -5.0)
    assert refused_fields(shore.ask.post("buyer-limits/", {**body, "limit_value": 0.05}))
    assert refused_fields(shore.ask.post("buyer-limits/", {**body, "buyer": "nobody"})) == ["buyer"]
