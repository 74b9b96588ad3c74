import pytest

from tests.api.asked import of_list
from tests.api.people import asking_as, somebody

DAYS = "from=2026-03-02&to=2026-03-05"
RIGHT = f"/api/v1/departures/?route=south&{DAYS}&species=IRQ&mass_kg=80&start_temperature_c=-18&page_size=100"


@pytest.fixture
def ask(ours):
    return asking_as(somebody(ours))


def test_a_question_whose_route_is_not_there_any_more_is_left_out_and_no_fault(ask):
    status, answer = ask("kept/", about=RIGHT)
    assert status == 200
    assert RIGHT not in [one["path"] for one in answer["documents"]]


@pytest.mark.parametrize(
    ("about", "said"),
    [
        ("/api/v1/members/", "it begins with /api/v1/departures/?"),
        ("https://example.org/api/v1/departures/?route=south", "it begins with /api/v1/departures/?"),
        ("/api/v1/departures/1-20260302-box/?species=IRQ", "it begins with /api/v1/departures/?"),
        (RIGHT.replace("mass_kg=80", "mass_kg=heavy"), "mass_kg"),
        (RIGHT.replace("mass_kg=80", "mass_kg=nan"), "mass_kg"),
        (RIGHT.replace("page_size=100", "page_size=5000"), "page_size"),
        (RIGHT + "&colour=blue", "colour is not a parameter here"),
        (RIGHT + "&route=north", "route is given more than once"),
        (RIGHT + "&note=" + "x" * 600, "600"),
    ],
)
def test_what_is_no_list_of_departures_is_refused_with_what_would_be_right(ask, about, said):
    status, answer = ask("kept/", about=about)
    assert status == 400
    [fault] = answer["error"]["fields"]
    assert fault["field"] == "about"
    assert said in fault["problem"]
    assert "/api/v1/departures/?route=" in fault["right"]


@pytest.mark.parametrize(
    "asked",
    [{"about": [RIGHT] * 4}, {"since": "x" * 65}, {"since": ""}, {"sparing": "perhaps"}, {"until": "today"}],
)
def test_more_than_three_questions_and_unknown_words_are_refused(ask, asked):
    status, answer = ask("kept/", **asked)
    assert status == 400
    assert {fault["field"] for fault in answer["error"]["fields"]} == set(asked)


def test_the_departures_of_her_own_questions_come_in_the_place_of_the_usual_one(ours, ours_trading):
    asked = of_list(ours_trading)
    path = "/api/v1/departures/?" + "&".join(f"{name}={value}" for name, value in asked.items())
    status, answer = asking_as(somebody(ours))("kept/", about=path)
    assert status == 200
    paths = [one["path"] for one in answer["documents"]]
    assert [one for one in paths if one.startswith("/api/v1/departures/?")] == [path]
