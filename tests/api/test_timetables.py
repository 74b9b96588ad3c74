from tests.api.dated_scene import TOMORROW, clock, refused_fields, shore

__all__ = ["clock", "shore"]


def test_days_of_an_hour_change_from_a_day_on(shore):
    body = {
        "carrier": shore.carrier.pk, "route": "south", "departs_at_local": "16:00", "valid_from": TOMORROW,
        "weekdays": [4, 0], "delay_hours_mean": 0.5, "delay_hours_cv": 0.8,
    }  # fmt: skip
    status, made = shore.ask.post("timetables/", body)
    assert (status, made["weekdays"], made["departs_at_local"]) == (201, [0, 4], "16:00:00")
    shore.timetable.refresh_from_db()
    assert str(shore.timetable.valid_until) == TOMORROW
    for field, value in (("weekdays", []), ("weekdays", [7]), ("departs_at_local", "16h"), ("carrier", 0)):
        assert refused_fields(shore.ask.post("timetables/", {**body, field: value}))[0].startswith(field)
    filling = {**body, "departs_at_local": "07:00", "leaves_when_full": True}
    assert refused_fields(shore.ask.post("timetables/", filling)) == ["__all__"]
    status, made = shore.ask.post("timetables/", {**filling, "seats_left": 9, "riders_per_hour": 6.5})
    assert (status, made["leaves_when_full"], made["seats_left"]) == (201, True, 9)
