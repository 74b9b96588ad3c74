"""Reads what was sent: one JSON object of known fields, each of its own type and in its range.

Whatever is wrong is said at once, as `api/question.py` does for parameters. Nothing is converted: "5" is no
number and 1 is no yes, for whoever sends them means something else.
"""

import json
import math

from rest_framework import serializers
from rest_framework.parsers import BaseParser

from api.question import nothing_asked, one_of, refused, right_for, words
from coop.errors import Problem, TooLarge, invalid

MOST_BYTES = 256 * 1024
MOST_DEPTH = 8
OBJECT = "one JSON object of fields"
SECRET = "not shown"
TYPES = (
    (serializers.BooleanField, bool, "is neither true nor false"),
    (serializers.IntegerField, int, "is no whole number"),
    (serializers.FloatField, (int, float), "is no number"),
    (serializers.ListField, list, "is no list"),
    (serializers.ListSerializer, list, "is no list"),
    (serializers.BaseSerializer, dict, "is no object of fields"),
    (serializers.Field, str, "is no text"),
)


class Secret(serializers.CharField):
    """A text that is never shown again, not even to whoever sent it wrongly."""

    def __init__(self, **options):
        super().__init__(write_only=True, trim_whitespace=False, **options)


class JsonBody(BaseParser):
    """JSON as its standard has it: names once, numbers finite, not deeper than anybody writes it."""

    media_type = "application/json"

    def parse(self, stream, media_type=None, parser_context=None):
        return parsed(read_bytes(stream, parser_context["request"].META.get("CONTENT_LENGTH")))


def read_bytes(stream, length):
    """All that was sent, unless that is too much: it is refused before it is read."""
    if length and int(length) > MOST_BYTES:
        raise TooLarge(f"This is {length} bytes long; right is at most {MOST_BYTES}.")
    content = stream.read(MOST_BYTES + 1)
    if len(content) > MOST_BYTES:
        raise TooLarge(f"This is too long; right is at most {MOST_BYTES} bytes.")
    return content


def parsed(content):
    """What these bytes say; the failures below are those of bytes, of JSON, and of half letters in a text."""
    try:
        data = json.loads(
            content.decode("utf-8"), object_pairs_hook=once, parse_constant=no_number, parse_float=finite
        )
        if is_deeper(data, MOST_DEPTH):
            raise invalid("body", None, "is nested too deep", OBJECT)
        json.dumps(data, ensure_ascii=False).encode("utf-8")
    except RecursionError as deep:
        raise invalid("body", None, "is nested too deep", OBJECT) from deep
    except ValueError as broken:
        raise invalid("body", None, "is no JSON in UTF-8", OBJECT) from broken
    return data


def is_deeper(value, levels):
    inside = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return levels == 0 or any(is_deeper(one, levels - 1) for one in inside)


def once(pairs):
    names = [name for name, _ in pairs]
    twice = [name for name in names if names.count(name) > 1] if len(set(names)) < len(names) else ()
    if twice:
        raise refused([Problem(name, None, "is given more than once", "one value") for name in set(twice)])
    return dict(pairs)


def no_number(word):
    raise invalid("body", word, "is no number", "a finite number")


def finite(digits):
    number = float(digits)
    return number if math.isfinite(number) else no_number(digits)


def read_body(serializer_class, request, *, partial=False, besides=()):
    """What was sent, checked and with its defaults; raises Invalid with every problem at once.

    With `partial`, fields may be left out and only what was sent is answered, but something must be.
    `besides` names parameters that others read.
    """
    nothing_asked(request, besides)
    data = request.data
    if not isinstance(data, dict):
        raise invalid("body", json.dumps(data), "is no object of fields", OBJECT)
    serializer = serializer_class(data=data, partial=partial, context={"request": request})
    problems = misshapen(serializer, data)
    if partial and not data:
        problems.append(Problem("body", "{}", "changes nothing", one_of(serializer.fields)))
    if not serializer.is_valid():
        named = {problem.field for problem in problems}
        problems += [one for one in unfit(serializer, serializer.errors, data) if one.field not in named]
    if problems:
        raise refused(problems)
    return dict(serializer.validated_data)


def misshapen(serializer, data, inside=""):
    """Fields that nobody reads, and values of another type than theirs."""
    problems = []
    for name, value in data.items():
        field, path = serializer.fields.get(name), f"{inside}{name}"
        if field is None or field.read_only:
            right = one_of(each for each, one in serializer.fields.items() if not one.read_only)
            problems.append(Problem(path, shown(value), "is not a field here", right))
        elif value is not None:
            problems += mistyped(field, value, path)
    return problems


def mistyped(field, value, path):
    """A value of the wrong type, or the wrong ones inside of it."""
    kind, fault = next((kind, fault) for known, kind, fault in TYPES if isinstance(field, known))
    if not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
        return [Problem(path, told(field, value), fault, right_of(field))]
    if isinstance(field, serializers.ListField | serializers.ListSerializer):
        inner = [mistyped(field.child, one, f"{path}.{place}") for place, one in enumerate(value)]
        return [problem for found in inner for problem in found]
    if isinstance(field, serializers.BaseSerializer):
        return misshapen(field, value, f"{path}.")
    return []


def unfit(serializer, errors, data, inside=""):
    """A problem for each field, however deep, that refused its value."""
    problems = []
    for name, details in errors.items():
        field = serializer.fields.get(name) if isinstance(serializer, serializers.BaseSerializer) else None
        value = data.get(name) if isinstance(data, dict) else data
        path = inside.rstrip(".") or "body" if name == "non_field_errors" else f"{inside}{name}"
        problems += unfit_in(field, details, value, path)
    return problems


def unfit_in(field, details, value, path):
    if isinstance(details, dict) and isinstance(field, serializers.Serializer):
        return unfit(field, details, value, f"{path}.")
    if isinstance(field, serializers.ListField | serializers.ListSerializer) and isinstance(value, list):
        found = places_of(details)
        if found:
            inner = [unfit_in(field.child, why, value[at], f"{path}.{at}") for at, why in found]
            return [problem for each in inner for problem in each]
    right = right_of(field) if field else "fields that agree"
    return [Problem(path, told(field, value), words(details), right)]


def places_of(details):
    """(place, why) of each item of a list that was refused; none where the list itself was."""
    if isinstance(details, dict):
        return [(place, why) for place, why in details.items() if isinstance(place, int)]
    return [(place, why) for place, why in enumerate(details) if isinstance(why, dict) and why]


def right_of(field):
    if isinstance(field, serializers.ListSerializer):
        return f"a list of objects of {', '.join(field.child.fields)}"
    if isinstance(field, serializers.BaseSerializer):
        return f"an object of {', '.join(field.fields)}"
    return right_for(field)


def told(field, value):
    return SECRET if isinstance(field, Secret) and value is not None else shown(value)


def shown(value):
    """A value as it was sent; texts stay as they are, for `api/errors.py` to shorten."""
    return value if value is None or isinstance(value, str) else json.dumps(value, ensure_ascii=False)
