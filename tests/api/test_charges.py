from tests.api.dated_scene import TOMORROW, clock, refused_fields, shore

__all__ = ["clock", "shore"]


def test_a_charge_begins_on_one_route_or_everywhere(shore):
    body = {"kind": "levy", "name": "Gate", "basis": "carton", "amount_minor": 900, "valid_from": TOMORROW}
    everywhere = shore.ask.post("charges/", body)
    there = shore.ask.post("charges/", {**body, "route": "south", "buyer": "market"})
    assert [answer[0] for answer in (everywhere, there)] == [201, 201]
    assert everywhere[1]["route"] is None
    assert (there[1]["route"]["slug"], there[1]["buyer"]["slug"]) == ("south", "market")
    assert refused_fields(shore.ask.post("charges/", {**body, "buyer": "nobody"})) == ["buyer"]
    assert refused_fields(shore.ask.post("charges/", {**body, "kind": "bribe"})) == ["kind"]
