from tests.api.dated_scene import TODAY, TOMORROW, clock, refused_fields, shore

__all__ = ["clock", "shore"]


def test_one_figure_of_the_terms_changes_from_a_day_on(shore):
    status, made = shore.ask.post("terms/", {"valid_from": TOMORROW, "confidence": 0.9})
    assert (status, made["confidence"], made["closing_lead_minutes"]) == (201, 0.9, 40.0)
    [today] = shore.ask("terms/", on=TODAY)[1]["results"]
    assert today["confidence"] == 0.95
    assert refused_fields(shore.ask.post("terms/", {"valid_from": TOMORROW, "confidence": 1})) == [
        "confidence"
    ]


def test_a_cooperative_shows_the_terms_of_today(shore, clock):
    shore.ask.post("terms/", {"valid_from": TOMORROW, "confidence": 0.9, "stale_after_days": 10})
    address = f"cooperatives/{shore.cooperative.slug}/"
    assert shore.ask(address)[1]["confidence"] == 0.95
    clock(24)
    shown = shore.ask(address)[1]
    assert (shown["confidence"], shown["stale_after_days"]) == (0.9, 10)
