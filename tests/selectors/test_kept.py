import pytest

from coop.selectors.kept import changes, cursor_of, digests_of, kept_before, rows_name, without_days
from tests.factories.kept import KeptFactory

LOTS = "/api/v1/lots/?page_size=100"
FIRST = {"count": 2, "results": [{"id": "a", "kg": 20}, {"id": "b", "kg": 30}]}


def given(documents):
    return {path: digests_of(answer) for path, answer in documents.items()}


def new_since(before, after):
    return changes(after, given(after), given(before))


def test_nothing_is_new_of_what_is_the_same():
    assert new_since({LOTS: FIRST}, {LOTS: FIRST}) == ([], [])


def test_what_was_never_given_comes_whole():
    assert new_since({}, {LOTS: FIRST}) == ([{"path": LOTS, "value": FIRST}], [])


def test_of_a_list_only_the_row_that_changed_comes():
    after = {"count": 2, "results": [{"id": "a", "kg": 25}, {"id": "b", "kg": 30}]}
    assert new_since({LOTS: FIRST}, {LOTS: after})[0] == [
        {"path": LOTS, "head": {}, "rows": [{"id": "a", "kg": 25}]}
    ]


def test_a_row_that_left_is_missing_in_the_order():
    after = {"count": 1, "results": [{"id": "b", "kg": 30}]}
    assert new_since({LOTS: FIRST}, {LOTS: after})[0] == [
        {"path": LOTS, "head": {"count": 1}, "rows": [], "order": ["b"]}
    ]


def test_rows_that_only_changed_places_are_told_by_their_order():
    after = {"count": 2, "results": FIRST["results"][::-1]}
    assert new_since({LOTS: FIRST}, {LOTS: after})[0] == [
        {"path": LOTS, "head": {}, "rows": [], "order": ["b", "a"]}
    ]


def test_a_document_that_is_there_no_more_is_gone():
    assert new_since({LOTS: FIRST}, {}) == ([], [LOTS])


def test_of_an_answer_without_rows_only_the_parts_that_changed_come():
    path = "/api/v1/parcels/1/"
    before, after = {"id": 1, "state": "open", "kg": 3}, {"id": 1, "state": "closed", "kg": 3}
    assert new_since({path: before}, {path: after})[0] == [{"path": path, "head": {"state": "closed"}}]


@pytest.mark.parametrize(
    "after",
    [
        {"count": 0, "results": []},
        {"count": 2, "results": FIRST["results"], "more": True},
        {"results": FIRST["results"]},
        {"count": 2, "results": [{"id": "a"}, {"id": "a"}]},
    ],
)
def test_an_answer_of_another_shape_comes_whole(after):
    assert new_since({LOTS: FIRST}, {LOTS: after})[0] == [{"path": LOTS, "value": after}]


def test_the_moment_of_asking_makes_no_answer_a_new_one_but_comes_with_what_is_new():
    before, after = {"a": 1, "worked_out_at": "08:00"}, {"a": 1, "worked_out_at": "08:01"}
    assert new_since({LOTS: before}, {LOTS: after}) == ([], [])
    later = {"a": 2, "worked_out_at": "08:02"}
    assert new_since({LOTS: before}, {LOTS: later})[0] == [{"path": LOTS, "head": later}]


@pytest.mark.parametrize(
    ("today", "tomorrow"),
    [
        ("/departures/?from=2026-03-02&to=2026-03-05", "/departures/?from=2026-03-03&to=2026-03-06"),
        ("/departures/1-20260302-box/?species=IRQ", "/departures/1-20260303-box/?species=IRQ"),
        ("/carton-designs/?on=2027-03-02", "/carton-designs/?on=2027-03-03"),
    ],
)
def test_tomorrows_question_builds_on_todays_answer(today, tomorrow):
    before = {"count": 2, "results": [{"id": "mon"}, {"id": "tue"}]}
    after = {"count": 2, "results": [{"id": "tue"}, {"id": "wed"}]}
    new, gone = new_since({today: before}, {tomorrow: after})
    assert new == [
        {"path": tomorrow, "like": today, "head": {}, "rows": [{"id": "wed"}], "order": ["tue", "wed"]}
    ]
    assert gone == [today]


def test_questions_about_other_fish_or_another_carton_are_not_alike():
    asked = "/departures/1-20260302-box/?species=IRQ"
    for other in ("/departures/1-20260303-box/?species=LTM", "/departures/1-20260303-tin/?species=IRQ"):
        assert without_days(asked) != without_days(other)


def test_rows_need_names_of_their_own():
    assert rows_name({"results": [{"slug": "a"}, {"slug": "b"}]}) == "results"
    assert rows_name({"entries": [{"id": 1}]}) == "entries"
    assert rows_name({"results": [{"member": {"id": 1}}]}) is None
    assert rows_name({"results": [1, 2]}) is None
    assert rows_name({"entries": "none"}) is None


def test_the_cursor_is_the_same_for_the_same_and_another_for_a_new_order():
    turned = {"count": 2, "results": FIRST["results"][::-1]}
    assert cursor_of(given({LOTS: FIRST})) == cursor_of(given({LOTS: dict(FIRST)}))
    assert cursor_of(given({LOTS: FIRST})) != cursor_of(given({LOTS: turned}))


@pytest.mark.django_db
def test_a_cursor_counts_for_the_token_that_it_was_given_to_alone():
    kept, other = KeptFactory(), KeptFactory()
    assert kept_before(kept.token, kept.cursor) == kept
    assert kept_before(other.token, kept.cursor) is None
    assert kept_before(kept.token, None) is None
