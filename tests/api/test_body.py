"""What a body may be, tried on a small question of its own."""

import json

import pytest
from rest_framework import serializers
from rest_framework.parsers import BaseParser
from rest_framework.request import Request
from rest_framework.test import APIRequestFactory

from api.body import MOST_BYTES, JsonBody, Secret, read_body
from api.question import Number
from coop.errors import Invalid, TooLarge


class PartIn(serializers.Serializer):
    member = serializers.IntegerField(min_value=1, max_value=99)
    claimed_minor = serializers.IntegerField(min_value=0, max_value=10**12)


class ClaimIn(serializers.Serializer):
    kind = serializers.ChoiceField(choices=["lost", "softened"])
    mass_kg = Number(min_value=0.1, max_value=500)
    parts = PartIn(many=True, required=False)
    note = serializers.CharField(max_length=20, required=False, allow_null=True)
    is_hard = serializers.BooleanField(required=False)
    days = serializers.ListField(child=serializers.IntegerField(min_value=1, max_value=7), required=False)
    secret = Secret(required=False, max_length=5)

    def validate(self, asked):
        if asked.get("kind") == "lost" and asked.get("is_hard"):
            raise serializers.ValidationError("What is lost is not hard.")
        return asked


GOOD = {"kind": "lost", "mass_kg": 20}


def sent(content, content_type="application/json", address="/"):
    if not isinstance(content, bytes | str):
        content = json.dumps(content)
    request = APIRequestFactory().post(address, content, content_type=content_type)
    return Request(request, parsers=[JsonBody()])


def problems(content, **options):
    with pytest.raises(Invalid) as refusal:
        read_body(ClaimIn, sent(content), **options)
    return [(one.field, one.value) for one in refusal.value.problems]


def test_a_good_body_is_read_field_by_field():
    asked = {**GOOD, "parts": [{"member": 3, "claimed_minor": 900}], "note": None, "days": [1, 7]}
    assert read_body(ClaimIn, sent(asked)) == asked


def test_everything_that_is_wrong_is_said_at_once_with_what_would_be_right():
    with pytest.raises(Invalid) as refusal:
        read_body(ClaimIn, sent({"kind": "eaten", "mass_kg": 900, "colour": "red", "is_hard": 1}))
    found = {one.field: (one.value, one.right) for one in refusal.value.problems}
    assert found == {
        "kind": ("eaten", "one of lost, softened"),
        "mass_kg": ("900", "a number from 0.1 to 500"),
        "colour": ("red", "one of kind, mass_kg, parts, note, is_hard, days, secret"),
        "is_hard": ("1", "true or false"),
    }


@pytest.mark.parametrize(
    ("wrong", "found"),
    [
        ({"kind": None}, ("kind", None)),
        ({"kind": True}, ("kind", "true")),
        ({"kind": ["lost"]}, ("kind", '["lost"]')),
        ({"kind": {"lost": 1}}, ("kind", '{"lost": 1}')),
        ({"mass_kg": "20"}, ("mass_kg", "20")),
        ({"mass_kg": True}, ("mass_kg", "true")),
        ({"mass_kg": 0}, ("mass_kg", "0")),
        ({"mass_kg": 10**400}, ("mass_kg", "1" + "0" * 400)),
        ({"note": 5}, ("note", "5")),
        ({"note": "a\0b"}, ("note", "a\0b")),
        ({"note": "x" * 21}, ("note", "x" * 21)),
        ({"days": "1"}, ("days", "1")),
        ({"days": [1, 8]}, ("days.1", "8")),
        ({"days": [1, 2.5]}, ("days.1", "2.5")),
        ({"days": [[1]]}, ("days.0", "[1]")),
        ({"parts": {}}, ("parts", "{}")),
        ({"parts": [5]}, ("parts.0", "5")),
        ({"parts": [{"member": 3}]}, ("parts.0.claimed_minor", None)),
        ({"parts": [{"member": 3, "claimed_minor": 1.5}]}, ("parts.0.claimed_minor", "1.5")),
        ({"parts": [{"member": 3, "claimed_minor": 1, "x": 1}]}, ("parts.0.x", "1")),
        ({"is_hard": True}, ("body", None)),
    ],
)
def test_a_value_of_another_type_or_out_of_range_is_named_where_it_stands(wrong, found):
    assert problems({**GOOD, **wrong}) == [found]


@pytest.mark.parametrize(
    "content",
    ["[]", "5", '"lost"', "null", "{", "{'kind': 'lost'}", b"\xff\xfe", '{"kind": "lost"} x', "[" * 100_000],
)
def test_what_is_no_object_of_json_is_refused(content):
    assert problems(content)[0][0] == "body"


@pytest.mark.parametrize(
    "content",
    [
        '{"kind": "lost", "mass_kg": NaN}',
        '{"kind": "lost", "mass_kg": -Infinity}',
        '{"kind": "lost", "mass_kg": 1e999}',
        '{"kind": "lost", "mass_kg": %s}' % ("9" * 5000),
        '{"kind": "lost", "mass_kg": 20, "note": "\\ud800"}',
        '{"kind": "lost", "mass_kg": 20, "\\udc00": 1}',
        '{"kind": "lost", "mass_kg": 20, "parts": ' + "[" * 900 + "]" * 900 + "}",
    ],
)
def test_what_cannot_be_a_number_or_a_text_is_refused(content):
    assert problems(content)[0][0] == "body"


def test_a_field_given_twice_is_refused_however_deep():
    assert problems('{"kind": "lost", "kind": "softened", "mass_kg": 20}') == [("kind", None)]
    twice = '{"kind": "lost", "mass_kg": 20, "parts": [{"member": 1, "member": 2}]}'
    assert problems(twice) == [("member", None)]


def test_an_empty_body_lacks_its_fields():
    assert problems("") == problems({}) == [("kind", None), ("mass_kg", None)]


def test_a_body_that_is_too_long_is_refused_before_it_is_read():
    class Unread(BaseParser):
        def read(self, _size):
            raise AssertionError("it is not read")

    with pytest.raises(TooLarge, match=str(MOST_BYTES)):
        read_body(ClaimIn, sent(b" " * (MOST_BYTES + 1)))
    parser_context = {"request": sent(GOOD)}
    parser_context["request"].META["CONTENT_LENGTH"] = str(10 * 2**20)
    with pytest.raises(TooLarge):
        JsonBody().parse(Unread(), parser_context=parser_context)


def test_a_secret_is_not_sent_back():
    assert problems({**GOOD, "secret": "correct horse"}) == [("secret", "not shown")]
    assert problems({**GOOD, "secret": 123456}) == [("secret", "not shown")]


def test_a_part_may_be_sent_where_only_a_part_changes_but_not_nothing():
    assert read_body(ClaimIn, sent({"mass_kg": 3.5}), partial=True) == {"mass_kg": 3.5}
    assert problems({}, partial=True) == [("body", "{}")]
    assert problems({"mass_kg": 0}, partial=True) == [("mass_kg", "0")]


def test_a_body_takes_no_parameters_beside_it():
    with pytest.raises(Invalid):
        read_body(ClaimIn, sent(GOOD, address="/?kind=lost"))
