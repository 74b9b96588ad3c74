from api.kept_documents import Documents, whole_answer
from api.kept_paths import ALL, START
from tests.api.people import asking_as, client_of, somebody
from tests.factories.carriers import CarrierFactory
from tests.factories.lots import LotFactory

LOTS = f"{START}lots/{ALL}"


def request_of(member, **headers):
    """A request of the interface as a view has it, by somebody."""
    return _Asked(client_of(member).get("/api/v1/me/", headers=headers).wsgi_request)


class _Asked:
    def __init__(self, request):
        self._request = request


def test_an_answer_is_what_the_interface_says_to_the_same_person(ours):
    anna = somebody(ours)
    LotFactory(cooperative=ours, member=anna)
    LotFactory(cooperative=ours)
    status, answer = asking_as(anna)("lots/", page_size=100)
    assert (status, answer["count"]) == (200, 1)
    assert whole_answer(LOTS, request_of(anna)) == answer


def test_what_is_refused_or_not_there_is_left_out(ours):
    documents = Documents(request_of(somebody(ours)))
    for path in (
        "statements/",
        "lots/7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c12/",
        "lots/?colour=blue",
        "nothing/",
    ):
        assert documents.add(START + path) is None
    assert documents == {}


def test_all_pages_of_a_list_are_one_answer_as_the_screens_have_it(ours):
    for _ in range(5):
        CarrierFactory(cooperative=ours)
    answer = whole_answer(f"{START}carriers/?page_size=2", request_of(somebody(ours, "manager")))
    assert len(answer["results"]) == len({row["id"] for row in answer["results"]}) == answer["count"] == 5
    assert answer["next"].endswith("page=2&page_size=2") or "page=2" in answer["next"]


def test_a_path_is_asked_for_once(ours):
    documents = Documents(request_of(somebody(ours)))
    first = documents.add(LOTS)
    assert documents.add(LOTS) is first


def test_an_answer_that_has_not_changed_for_a_browser_is_whole_here(ours):
    """What the outer request says of its own answer says nothing of those inside."""
    assert whole_answer(LOTS, request_of(somebody(ours), **{"if-none-match": "*"})) is not None
