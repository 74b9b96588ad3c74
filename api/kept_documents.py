"""The documents of a phone: each is what the interface itself answers its holder at that path."""

import json
from datetime import timedelta
from urllib.parse import urlsplit

from api.cooperative import person_of, today_of
from api.elsewhere import response_at
from api.kept_departures import first_paths, list_paths, timetable_path
from api.kept_paths import MOST_ONES, PATHS, START
from coop.selectors.kept import ROWS

MOST_PAGES = 6
"""As many as the screens fetch of a list."""
YEAR = timedelta(days=365)


class Documents(dict):
    """Answers by path, each asked for once; what is refused, or is not there, is left out."""

    def __init__(self, request):
        super().__init__()
        self.request = request

    def add(self, path):
        """The answer at a path, or None."""
        if path not in self:
            answer = whole_answer(path, self.request)
            if answer is not None:
                self[path] = answer
        return self.get(path)


def documents_for(request, asked, now):
    """{path: answer} of all that the phone of whoever asks keeps."""
    person, documents = person_of(request), Documents(request)
    in_a_year = today_of(person.cooperative) + YEAR
    for listed in PATHS[person.role]:
        add_listed(documents, listed, in_a_year)
    for path in asked["about"] or list_paths(documents, person):
        add_departures(documents, path, asked["sparing"], now)
    return documents


def add_listed(documents, listed, in_a_year):
    answer = documents.add(START + listed.path.format(in_a_year=in_a_year))
    rows = (answer or {}).get("results", ())
    opened = [row for row in rows if listed.opened is None or listed.opened(row)]
    for one in listed.ones:
        for row in opened[:MOST_ONES]:
            documents.add(START + one.format(**row))


def add_departures(documents, path, sparing, now):
    """A list of departures, the first of them in full, and how their vehicles run."""
    answer = documents.add(path)
    if answer is None:
        return
    for one in first_paths(answer, path, sparing=sparing, now=now):
        if documents.add(one) is not None:
            documents.add(timetable_path(one))


def whole_answer(path, request):
    """All pages of an answer in one, as the screens have it; None where it is refused."""
    first = answer = answer_at(path, request)
    for _ in range(MOST_PAGES - 1):
        if not (isinstance(answer, dict) and answer.get("next")):
            break
        parts = urlsplit(answer["next"])
        answer = answer_at(f"{parts.path}?{parts.query}", request)
        if answer is None:
            break
        rows = next(name for name in ROWS if name in first)
        first[rows] = first[rows] + answer[rows]
    return first


def answer_at(path, request):
    """What the view at a path answers to whoever asks, as JSON has it; None where it refuses."""
    address, _, query = path.partition("?")
    response = response_at(request._request, address, query)
    return json.loads(response.render().content) if response.status_code == 200 else None
