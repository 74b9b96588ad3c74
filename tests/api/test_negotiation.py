from types import SimpleNamespace

import pytest

from api.negotiation import OneForm, media_type_of


@pytest.mark.parametrize("sent", ["text/csv", "text/csv; charset=utf-8", "Text/CSV"])
def test_a_form_is_known_whatever_is_said_beside_it(sent):
    csv = SimpleNamespace(media_type="text/csv")
    request = SimpleNamespace(content_type=sent)
    assert media_type_of(request) == "text/csv"
    assert OneForm().select_parser(request, [csv]) is csv


def test_another_form_has_no_parser_and_an_answer_has_one_form():
    request = SimpleNamespace(content_type=None)
    assert OneForm().select_parser(request, [SimpleNamespace(media_type="text/csv")]) is None
    json = SimpleNamespace(media_type="application/json")
    assert OneForm().select_renderer(request, [json]) == (json, "application/json")
