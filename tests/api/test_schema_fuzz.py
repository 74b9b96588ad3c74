"""The interface against its own description, by schemathesis: whatever is sent, what comes back is described.

Each route is asked by a visitor, a member and a manager: first as it should be, with the rows of the table of
roles, and then with cases that schemathesis makes of the description, right ones and wrong ones. What should
be comes in among them, name by name: otherwise nothing would come past the first field.
"""

import json
import re

import pytest
import schemathesis
from django.core.wsgi import get_wsgi_application
from django.db import transaction
from django.test import Client
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.core import NOT_SET
from schemathesis.core.failures import FailureGroup
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    negative_data_rejection,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from api.errors import STATUS
from coop import errors
from tests.api import asked
from tests.api.people import cast
from tests.api.role_table import ROWS, SEVEN
from tests.factories.freezers import FreezerFactory
from tests.factories.phones import token_for
from tests.factories.scene import trade

ASKERS = ("visitor", "owner", "manager")
# What a failure is: a fault of ours, a status or a body that the description does not name, or something
# taken that it forbids.
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    negative_data_rejection,
]
JSON = "application/json"
RIGHT = "Positive test case"
FIRST = {"page": 1, "page_size": 50}
bounded = settings(
    max_examples=8,
    derandomize=True,
    deadline=None,
    database=None,
    phases=[Phase.generate],
    suppress_health_check=list(HealthCheck),
)
# What is worked out is asked about the small trade of the factories.
QUESTIONS = {
    "cost/": asked.of_cost,
    "departures/": asked.of_list,
    "departures/{name}/": asked.of_one,
    "departures/{name}/reckoning/": asked.of_reckoning,
    "freezing/": asked.of_freezing,
    "hold/": asked.of_hold,
    "ways/": asked.of_ways,
}


@schemathesis.serializer("application/zip")
def zipped(_context, value):
    """As it was made: what is no feed at all is what most wrong files are."""
    return bytes(value) if isinstance(value, bytes | bytearray) else str(value).encode()


def template(row):
    """Its address as the description writes it, where a key is called an id."""
    return re.sub(r"<\w+:(\w+)>", r"{\1}", row.address).replace("{pk}", "{id}")


DESCRIBED = [row for row in ROWS if row.address not in ("", "schema/")]
names = [f"{row.method} {row.address}" for row in DESCRIBED]


@pytest.fixture(scope="module")
def interface():
    """As it describes itself, asked within this process."""
    # Who asks is said by us: the library would make up tokens, and leave them out.
    config = schemathesis.Config.from_dict({"generation": {"with-security-parameters": False}})
    described = schemathesis.openapi.from_dict(Client().get("/api/v1/schema/").json(), config=config)
    described.app = get_wsgi_application()
    return described


@pytest.fixture
def people(ours, theirs):
    return cast(ours, theirs)


def asked_about(cooperative):
    """The trade that questions are about."""
    FreezerFactory(cooperative=cooperative, slug="chest")
    return trade(cooperative)


def named_by(row, people):
    """What its address names; for a list one row of it is made, so that there is something to see."""
    one = re.compile(re.escape(row.address) + r"<\w+:\w+>/")
    makes = row if row.named else next((each for each in ROWS if one.fullmatch(each.address)), row)
    return str(makes.named(people)) if makes.named else None


class Known:
    """What a route is asked as it should be, and the status that is then right."""

    def __init__(self, row, who, people):
        address, self.status = template(row), row.statuses[SEVEN.index(who)]
        named, names = named_by(row, people), re.findall(r"{(\w+)}", address)
        self.path = {name: "1" if name == "position" else named for name in names}
        self.query = row.query(people) if row.query else {}
        self.body = json.loads(json.dumps(row.body(people), default=str)) if row.body else {}
        if address in QUESTIONS:
            self.ask(QUESTIONS[address], asked_about(people.ours))
        # Squeezed answers are unpacked by a browser, but not by the library.
        self.headers = {"Accept-Encoding": "identity"}
        if who != "visitor":
            phone = people.phone if who == "owner" else None
            self.headers["Authorization"] = f"Token {token_for(getattr(people, who), phone)}"

    def ask(self, question, about):
        """What the table of roles asks is refused; this is not."""
        self.path = {name: asked.name_of(about) for name in self.path}
        self.query = question(about)
        self.status = 200 if self.status == 400 else self.status


def sent(case, known):
    """Sends a case and takes back what came of it; the answer, held against the description."""
    with transaction.atomic():
        response = case.call(headers=known.headers)
        transaction.set_rollback(True)
    case.validate_response(response, checks=checks_of(case), headers=known.headers)
    return response


def checks_of(case):
    """All of them; nothing wrong was taken where nothing was wrong.

    Of a body that may be left out the library makes a wrong case by leaving it out, and says itself that
    this is a right one.
    """
    is_right = case.body is NOT_SET and case.meta and case.meta.phase.data.description == RIGHT
    return [check for check in CHECKS if not (is_right and check is negative_data_rejection)]


def cases(operation):
    """Right ones and wrong ones; of a route that takes nothing there are only right ones."""
    modes = [GenerationMode.POSITIVE]
    if operation.query or operation.path_parameters or operation.body:
        modes.append(GenerationMode.NEGATIVE)
    return st.one_of([operation.as_strategy(generation_mode=mode) for mode in modes])


def among(made, right, keep):
    """What was made, with what is right in place of some of it."""
    return made | {name: right[name] for name in keep if name in right} if isinstance(made, dict) else made


@pytest.mark.parametrize("who", ASKERS)
@pytest.mark.parametrize("row", DESCRIBED, ids=names)
def test_whatever_is_sent_is_answered_as_described(row, who, people, interface):
    operation, known = interface[f"/api/v1/{template(row)}"][row.method], Known(row, who, people)
    fields = sorted({*known.path, *known.query, *known.body}) or [""]
    body = {"body": known.body, "media_type": JSON} if row.method != "GET" else {}
    as_it_should_be = operation.Case(path_parameters=known.path, query=known.query, **body)
    assert sent(as_it_should_be, known).status_code == known.status

    @bounded
    @given(case=cases(operation), keep=st.sets(st.sampled_from(fields)))
    def whatever(case, keep):
        case.path_parameters = among(case.path_parameters, known.path, keep)
        case.query = among(case.query, known.query, keep)
        case.body = among(case.body, known.body, keep)
        sent(case, known)

    whatever()


def test_every_operation_is_tried(interface):
    described = {result.ok().label for result in interface.get_all_operations()}
    assert described == {f"{row.method} /api/v1/{template(row)}" for row in DESCRIBED}


def broken(*_arguments, **_named):
    raise ZeroDivisionError


def many(*_arguments, **_named):
    return {"count": "many", "next": None, "previous": None, "results": []}


@pytest.mark.parametrize(
    ("change", "found"),
    [
        (lambda patch: patch.setattr("api.roles.person_of", broken), "Server error"),
        (lambda patch: patch.setitem(STATUS, errors.Invalid, 418), "Undocumented"),
        (lambda patch: patch.setattr("api.stored.paged", many), "violates schema"),
        (lambda patch: patch.setattr("api.stored.read_page", lambda *_, **__: FIRST), "request accepted"),
    ],
)
def test_what_breaks_the_description_is_found(change, found, people, interface, monkeypatch):
    change(monkeypatch)
    row = next(row for row in DESCRIBED if (row.method, row.address) == ("GET", "places/"))
    operation, known = interface["/api/v1/places/"]["GET"], Known(row, "visitor", people)

    @settings(bounded, max_examples=40)
    @given(case=cases(operation))
    def whatever(case):
        sent(case, known)

    with pytest.raises(FailureGroup, match=found):
        whatever()
