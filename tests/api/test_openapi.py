import pytest
from django.urls import path
from drf_spectacular.drainage import GENERATOR_STATS
from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.validation import validate_schema
from rest_framework import serializers
from rest_framework.views import APIView

from api import urls
from api.body import misshapen
from api.question import Number
from api.question_fields import Instant
from api.roles import VISITORS
from api.stored import of_method

VIEWS = {
    pattern.callback.cls
    for pattern in urls.urlpatterns
    if getattr(pattern.callback.cls, "schema", None) is not None
}


@pytest.fixture(scope="module")
def schema():
    return SchemaGenerator().get_schema(public=True)


def said(name):
    """(view, method, what the view says of it) of each method that says something under this name."""
    each = ((view, method) for view in VIEWS for method in view.may)
    found = ((view, method, of_method(getattr(view, name, None), method)) for view, method in each)
    rows = [pytest.param(*row, id=f"{row[1]} {row[0].__name__}") for row in found if row[2] is not None]
    return sorted(rows, key=lambda row: row.id)


def test_the_description_comes_without_a_warning_and_is_openapi(capsys):
    described = SchemaGenerator().get_schema(public=True)
    assert not GENERATOR_STATS
    assert capsys.readouterr().err == ""
    validate_schema(described)


def test_every_address_but_the_description_is_described(schema):
    written = {f"/api/v1/{pattern.pattern}" for pattern in urls.urlpatterns if pattern.callback.cls in VIEWS}
    assert len(schema["paths"]) == len(written)


def test_every_answer_and_every_refusal_has_an_example(schema):
    for address, method, operation in operations(schema):
        for status, response in operation["responses"].items():
            if status != "204":
                for content in response["content"].values():
                    assert content.get("examples"), f"{method} {address} {status} has no example"


def operations(schema):
    for address, methods in schema["paths"].items():
        for method, operation in methods.items():
            yield address, method, operation


@pytest.mark.parametrize(("view", "method", "output"), said("output"))
def test_an_example_has_exactly_the_fields_of_its_answer(view, method, output):
    assert differences(output(), output.example) == []


@pytest.mark.parametrize(("view", "method", "body"), said("body"))
def test_the_example_of_a_body_is_one_that_would_be_read(view, method, body):
    example = body.example
    assert misshapen(body(data=example), example) == []
    assert body(data=example, partial=method == "PATCH").is_valid()


@pytest.mark.parametrize(("view", "method", "body"), said("body"))
def test_every_number_and_every_text_of_a_body_has_its_bounds(view, method, body):
    assert unbounded(body()) == []


def unbounded(field, name=""):
    """Fields, however deep, that take a number of any size, a text of any length or a list without end."""
    if isinstance(field, serializers.ListSerializer):
        return ([] if field.max_length else [name]) + unbounded(field.child, name)
    if isinstance(field, serializers.Serializer):
        inner = (unbounded(one, f"{name}.{key}") for key, one in field.fields.items() if not one.read_only)
        return [found for each in inner for found in each]
    if isinstance(field, serializers.ListField):
        return ([] if field.max_length else [name]) + unbounded(field.child, name)
    if isinstance(field, serializers.IntegerField | serializers.FloatField):
        return [name] if None in (field.min_value, field.max_value) else []
    is_text = isinstance(field, serializers.CharField) and not isinstance(field, Instant)
    return [name] if is_text and field.max_length is None else []


def test_a_number_a_text_or_a_list_without_bounds_is_found():
    class PartIn(serializers.Serializer):
        kg = Number(min_value=0)
        note = serializers.CharField()

    class BodyIn(serializers.Serializer):
        parts = PartIn(many=True)
        days = serializers.ListField(child=serializers.IntegerField(min_value=1, max_value=7))

    assert unbounded(BodyIn()) == [".parts", ".parts.kg", ".parts.note", ".days"]


def test_each_operation_says_whether_it_wants_a_token(schema):
    wanted = {(address, method): one["security"] for address, method, one in operations(schema)}
    assert wanted["/api/v1/places/", "get"] == [{"phoneToken": []}, {}]
    assert wanted["/api/v1/me/", "get"] == [{"phoneToken": []}]
    assert wanted["/api/v1/enrolments/", "post"] == [{}]
    assert schema["components"]["securitySchemes"]["phoneToken"]["name"] == "Authorization"


def test_a_body_is_described_with_its_example_and_what_may_be_refused(schema):
    members = schema["paths"]["/api/v1/members/"]["post"]
    content = members["requestBody"]["content"]["application/json"]
    assert content["examples"]["Sent"]["value"] == {"name": "Anna", "phone": "097 1", "role": "member"}
    assert set(members["responses"]) == {"201", "400", "401", "403", "409", "413", "415"}
    assert set(schema["paths"]["/api/v1/sign-out/"]["post"]["responses"]) >= {"204", "401"}
    assert set(schema["paths"]["/api/v1/sign-in/"]["post"]["responses"]) >= {"201", "400", "429"}


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
    assert set(parameters) == {"route", "carrier", "leaves_when_full", "on", "from_date", "page", "page_size"}
    assert parameters["on"]["schema"] == {"type": "string", "format": "date"}
    assert parameters["leaves_when_full"]["schema"]["enum"] == ["false", "true"]


def test_a_question_is_a_list_of_parameters_and_its_example_is_shown():
    class HoldQuestion(serializers.Serializer):
        mass_kg = Number(min_value=1, max_value=500, help_text="fish in the carton")
        limit = serializers.ListField(child=serializers.CharField(), required=False)

    class Hold(APIView):
        """How long a carton holds."""

        question = HoldQuestion
        may = {"GET": VISITORS}
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
