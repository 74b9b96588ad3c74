"""Describes each view from what stands on it: filters or question, output, example.

Imported only when somebody asks for the description.
"""

from django import forms
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiExample, OpenApiParameter, OpenApiResponse
from rest_framework import serializers

from api.errors import shape
from api.filtering import right_for
from api.pagination import PageQuestion
from coop.errors import Problem

WRONG = shape(
    "invalid",
    "page: is after the last page.",
    [Problem("page", "9", "is after the last page", "a whole number from 1 to 3")],
)
MISSING = shape("not_found", "There is nothing at this address.")


class ProblemOut(serializers.Serializer):
    field = serializers.CharField()
    value = serializers.CharField(allow_null=True)
    problem = serializers.CharField()
    right = serializers.CharField(help_text="what would be right")


class ErrorOut(serializers.Serializer):
    code = serializers.CharField()
    message = serializers.CharField()
    fields = ProblemOut(many=True)


class FailureOut(serializers.Serializer):
    error = ErrorOut()


def page_of(output):
    """The envelope of a list of `output`."""
    fields = {
        "count": serializers.IntegerField(),
        "next": serializers.URLField(allow_null=True),
        "previous": serializers.URLField(allow_null=True),
        "results": output(many=True),
    }
    return type(f"{output.__name__.removesuffix('Out')}Page", (serializers.Serializer,), fields)


def parameter(name, filter_):
    """One filter of a list."""
    field = filter_.field
    kind = OpenApiTypes.STR
    if isinstance(field, forms.IntegerField):
        kind = OpenApiTypes.INT
    elif isinstance(field, forms.DateField):
        kind = OpenApiTypes.DATE
    words = [word for word, _ in getattr(field, "choices", ()) if word] or None
    return OpenApiParameter(name, kind, description=right_for(field), enum=words)


class Inspector(AutoSchema):
    """A view without an `output` answers with an object that only its `example` describes."""

    def is_list(self):
        return getattr(self.view, "filters", None) is not None

    def get_operation_id(self):
        return "_".join([*self._tokenize_path(), *(["one"] if "{" in self.path else [])]).replace("-", "_")

    def get_tags(self):
        return self._tokenize_path()[:1]

    def get_auth(self):
        return []

    def get_serializer_name(self, serializer, direction):
        return super().get_serializer_name(serializer, direction).removesuffix("Out")

    def get_override_parameters(self):
        if self.is_list():
            filters = self.view.filters.base_filters
            return [*(parameter(name, one) for name, one in filters.items()), PageQuestion]
        question = getattr(self.view, "question", None)
        return [question] if question else []

    def get_response_serializers(self):
        output = getattr(self.view, "output", None) or OpenApiTypes.OBJECT
        good = page_of(output) if self.is_list() else output
        answers = {200: good, 400: OpenApiResponse(FailureOut, "what is wrong, and what would be right")}
        if "{" in self.path:
            answers[404] = OpenApiResponse(FailureOut, "there is none such")
        return answers

    def get_examples(self):
        good = getattr(self.view, "example", None) or self.view.output.example
        if self.is_list():
            good = {"count": 1, "next": None, "previous": None, "results": [good]}
        found = [OpenApiExample("answer", good, status_codes=["200"])]
        found.append(OpenApiExample("refusal", WRONG, status_codes=["400"]))
        if "{" in self.path:
            found.append(OpenApiExample("missing", MISSING, status_codes=["404"]))
        return found
