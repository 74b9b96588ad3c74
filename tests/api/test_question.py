import pytest
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.test import APIRequestFactory

from api.question import Number, nothing_asked, read
from coop.errors import Invalid


class Question(serializers.Serializer):
    mass_kg = Number(min_value=1, max_value=500)
    boxes = serializers.IntegerField(min_value=1, max_value=20, default=1)
    ride = serializers.ChoiceField(choices=["roof", "cabin"], default="roof")
    carton_design = serializers.ListField(child=serializers.SlugField(), default=list)
    on = serializers.DateField(required=False)
    closes_at = serializers.DateTimeField(required=False)
    safe = serializers.BooleanField(required=False)
    code = serializers.CharField(required=False, help_text="three letters")


def asked(query):
    return Request(APIRequestFactory().get(f"/?{query}"))


def problems(query):
    with pytest.raises(Invalid) as failure:
        read(Question, asked(query))
    return failure.value.problems


def test_what_is_not_asked_takes_its_default():
    assert read(Question, asked("mass_kg=80")) == {
        "mass_kg": 80.0,
        "boxes": 1,
        "ride": "roof",
        "carton_design": [],
    }


def test_what_may_repeat_is_kept_in_full():
    answer = read(Question, asked("mass_kg=80&carton_design=common&carton_design=thick"))
    assert answer["carton_design"] == ["common", "thick"]


def test_parameters_that_somebody_else_reads_are_let_through():
    assert read(Question, asked("mass_kg=80&page=2"), besides=["page"])["mass_kg"] == 80


@pytest.mark.parametrize(
    ("query", "field", "value", "right"),
    [
        ("", "mass_kg", None, "a number from 1 to 500"),
        ("mass_kg=", "mass_kg", "", "a value, or not to name it"),
        ("mass_kg=-3", "mass_kg", "-3", "a number from 1 to 500"),
        ("mass_kg=501", "mass_kg", "501", "a number from 1 to 500"),
        ("mass_kg=nan", "mass_kg", "nan", "a number from 1 to 500"),
        ("mass_kg=inf", "mass_kg", "inf", "a number from 1 to 500"),
        ("mass_kg=-Infinity", "mass_kg", "-Infinity", "a number from 1 to 500"),
        ("mass_kg=1e999", "mass_kg", "1e999", "a number from 1 to 500"),
        ("mass_kg=heavy", "mass_kg", "heavy", "a number from 1 to 500"),
        ("mass_kg=8&mass_kg=80", "mass_kg", ["8", "80"], "one value"),
        ("mass_kg=80&boxes=1.5", "boxes", "1.5", "a whole number from 1 to 20"),
        ("mass_kg=80&boxes=99999999999999999999999", "boxes", "9" * 23, "a whole number from 1 to 20"),
        ("mass_kg=80&ride=boat", "ride", "boat", "one of roof, cabin"),
        ("mass_kg=80&on=2026-02-30", "on", "2026-02-30", "a date such as 2026-03-02"),
        ("mass_kg=80&on=12/24/2026", "on", "12/24/2026", "a date such as 2026-03-02"),
        ("mass_kg=80&safe=perhaps", "safe", "perhaps", "true or false"),
        ("mass_kg=80&code=%00", "code", "\x00", "three letters"),
        (
            "mass_kg=80&carton_design=a%20b",
            "carton_design",
            ["a b"],
            "a short name of letters, digits and hyphens, once or several times",
        ),
        (
            "mass_kg=80&closes_at=tomorrow",
            "closes_at",
            "tomorrow",
            "an instant such as 2026-03-02T16:00:00+02:00",
        ),
    ],
)
def test_what_is_wrong_is_named_with_its_value_and_what_would_be_right(query, field, value, right):
    (problem,) = problems(query)
    assert (problem.field, problem.value, problem.right) == (field, value, right)


def test_an_unknown_parameter_is_refused_and_the_known_ones_named():
    (problem,) = problems("mass_kg=80&mass=80")
    assert (problem.field, problem.value) == ("mass", "80")
    assert problem.right.startswith("one of mass_kg, boxes")


def test_everything_that_is_wrong_is_said_at_once():
    found = problems("mass_kg=nan&boxes=0&weight=3")
    assert [one.field for one in found] == ["weight", "mass_kg", "boxes"]


def test_one_row_takes_no_parameters():
    nothing_asked(asked(""))
    with pytest.raises(Invalid) as failure:
        nothing_asked(asked("name=anna"))
    assert failure.value.problems[0].right == "no parameter at all"
