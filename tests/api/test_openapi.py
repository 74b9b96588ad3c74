import pytest
from django.urls import path
from drf_spectacular.drainage import GENERATOR_STATS
from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.validation import validate_schema
from rest_framework import serializers
from rest_framework.views import APIView

from api import urls
from api.question import Number

VIEWS = {
    pattern.callback.cls
    for pattern in urls.urlpatterns
    if getattr(pattern.callback.cls, "schema", None) is not None
}


@pytest.fixture(scope="module")
def schema():
    return SchemaGenerator().get_schema(public=True)


def by_name(view):
    return view.__name__


def shows_rows(view):
    return getattr(view, "output", None) is not None


def test_the_description_comes_without_a_warning_and_is_openapi(capsys):
    described = SchemaGenerator().get_schema(public=True)
    assert not GENERATOR_STATS
    assert capsys.readouterr().err == ""
    validate_schema(described)


def test_every_address_but_the_description_is_described(schema):
    written = {f"/api/v1/{pattern.pattern}" for pattern in urls.urlpatterns if pattern.callback.cls in VIEWS}
    assert len(schema["paths"]) == len(written)


def test_every_answer_and_every_refusal_has_an_example(schema):
    for address, operations in schema["paths"].items():
        for status, response in operations["get"]["responses"].items():
            examples = response["content"]["application/json"].get("examples")
            assert examples, f"{address} {status} has no example"


@pytest.mark.parametrize("view", sorted(filter(shows_rows, VIEWS), key=by_name), ids=by_name)
def test_an_example_has_exactly_the_fields_of_its_answer(view):
    assert differences(view.output(), view.output.example) == []


def differences(serializer, example, inside=""):
    """Fields that an example lacks or has beyond, or that hold another kind of value."""
    names = {*serializer.fields, *example}
    found = [f"{inside}{name}" for name in names if name not in serializer.fields or name not in example]
    for name, field in serializer.fields.items():
        value = example.get(name)
        if isinstance(field, serializers.ListSerializer):
            found += [one for item in value for one in differences(field.child, item, f"{inside}{name}.")]
        elif isinstance(field, serializers.Serializer):
            found += differences(field, value, f"{inside}{name}.") if value is not None else []
        elif value is not None and field.to_representation(field.to_internal_value(value)) != value:
            found.append(f"{inside}{name} is {value!r}")
    return found


def test_an_example_that_lacks_a_field_or_has_one_beyond_is_found():
    class Out(serializers.Serializer):
        name = serializers.CharField()
        mass_kg = serializers.FloatField()

    assert differences(Out(), {"name": "x", "mass_kg": 1.0}) == []
    assert differences(Out(), {"name": "x", "kg": 1.0}) in (["mass_kg", "kg"], ["kg", "mass_kg"])


def test_filters_and_pages_are_parameters_of_a_list(schema):
    parameters = {one["name"]: one for one in schema["paths"]["/api/v1/timetables/"]["get"]["parameters"]}
    assert set(parameters) == {"route", "carrier", "leaves_when_full", "on", "page", "page_size"}
    assert parameters["on"]["schema"] == {"type": "string", "format": "date"}
    assert parameters["leaves_when_full"]["schema"]["enum"] == ["false", "true"]


def test_a_question_is_a_list_of_parameters_and_its_example_is_shown():
    class HoldQuestion(serializers.Serializer):
        mass_kg = Number(min_value=1, max_value=500, help_text="fish in the carton")
        limit = serializers.ListField(child=serializers.CharField(), required=False)

    class Hold(APIView):
        """How long a carton holds."""

        question = HoldQuestion
        example = {"hold": [{"kind": "core_c", "value": -5.0, "hold_best_h": 44.1}]}

        def get(self, request):
            raise AssertionError("describing a view does not ask it")

    described = SchemaGenerator(patterns=[path("api/v1/hold/", Hold.as_view())]).get_schema(public=True)
    assert not GENERATOR_STATS
    operation = described["paths"]["/api/v1/hold/"]["get"]
    mass, limit = sorted(operation["parameters"], key=lambda one: one["name"], reverse=True)
    assert (mass["required"], mass["schema"]["minimum"], mass["schema"]["maximum"]) == (True, 1, 500)
    assert limit["schema"] == {"type": "array", "items": {"type": "string"}}
    answer = operation["responses"]["200"]["content"]["application/json"]
    assert answer["examples"]["Answer"]["value"] == Hold.example
