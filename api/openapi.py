"""Describes each view from what stands on it: filters or question, output, example.

Imported only when somebody asks for the description.
"""

from django import forms
from drf_spectacular.extensions import OpenApiAuthenticationExtension, OpenApiSerializerFieldExtension
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiExample, OpenApiParameter, OpenApiResponse
from rest_framework import serializers

from api.authentication import SCHEME, PhoneAuthentication
from api.filtering import right_for
from api.openapi_refusals import refusals_of
from api.pagination import PageQuestion
from api.roles import ANYBODY, VISITORS
from api.stored import of_method

STAYED = "only where the words are not in the Content-Language that was asked for: en"


class ProblemOut(serializers.Serializer):
    field = serializers.CharField()
    value = serializers.CharField(allow_null=True)
    problem = serializers.CharField()
    right = serializers.CharField(help_text="what would be right")
    language = serializers.CharField(required=False, help_text=STAYED)


class ErrorOut(serializers.Serializer):
    code = serializers.CharField()
    message = serializers.CharField()
    language = serializers.CharField(required=False, help_text=STAYED)
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


class TokenScheme(OpenApiAuthenticationExtension):
    target_class = PhoneAuthentication
    name = "phoneToken"

    def get_security_definition(self, auto_schema):
        return {
            "type": "apiKey",
            "in": "header",
            "name": "Authorization",
            "description": f"`{SCHEME} ` and the token that this phone got when it was enrolled",
        }


class LocalHour(OpenApiSerializerFieldExtension):
    """An hour of the clock where it counts: the format `time` of JSON Schema has an offset from UTC."""

    target_class = serializers.TimeField
    match_subclasses = True

    def map_serializer_field(self, auto_schema, direction):
        return {"type": "string", "pattern": r"^([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$", "example": "16:00:00"}


class Inspector(AutoSchema):
    """A view without an `output` answers with an object that only its `example` describes."""

    def said(self, name):
        """What the view says under this name for the method that is being described."""
        return of_method(getattr(self.view, name, None), self.method)

    def is_list(self):
        return self.method == "GET" and getattr(self.view, "filters", None) is not None

    def status(self):
        return self.said("status") or 200

    def get_operation_id(self):
        words = [*self._tokenize_path(), *(["one"] if "{" in self.path else [])]
        return "_".join([*words, *([] if self.method == "GET" else [self.method.lower()])]).replace("-", "_")

    def get_tags(self):
        return self._tokenize_path()[:1]

    def get_auth(self):
        """With a token; without one, too, where visitors of the demonstration or anybody may ask."""
        return [*super().get_auth(), *([{}] if self.said("may") in (ANYBODY, VISITORS) else [])]

    def get_serializer_name(self, serializer, direction):
        return super().get_serializer_name(serializer, direction).removesuffix("Out")

    def get_override_parameters(self):
        if self.is_list():
            filters = self.view.filters.base_filters
            return [*(parameter(name, one) for name, one in filters.items()), PageQuestion]
        asks = isinstance(getattr(self.view, "question", None), dict) or self.method == "GET"
        question = self.said("question") if asks else None
        return [question] if question else []

    def get_request_serializer(self):
        upload = self.said("upload")
        return {upload: OpenApiTypes.BINARY} if upload else self.said("body")

    def refusals(self):
        writes = self.method != "GET"
        return refusals_of(may=self.said("may"), writes=writes, has_rows="{" in self.path)

    def get_response_serializers(self):
        refused = {one.status: OpenApiResponse(FailureOut, one.words) for one in self.refusals()}
        download = self.said("download")
        good = (self.status(), download) if download else self.status()
        return {good: OpenApiTypes.BINARY if download else self.good(), **refused}

    def good(self):
        if self.status() == 204:
            return OpenApiResponse(None, "it is done")
        output = self.said("output") or OpenApiTypes.OBJECT
        return page_of(output) if self.is_list() else output

    def get_examples(self):
        form = self.said("download") or "application/json"
        found = [] if self.status() == 204 else [example("answer", self.answer(), self.status(), form)]
        found += [example(one.name, one.example, one.status) for one in self.refusals()]
        if self.said("body"):
            found.append(OpenApiExample("sent", self.said("body").example, request_only=True))
        return found

    def answer(self):
        good = getattr(self.view, "example", None) or self.said("output").example
        return {"count": 1, "next": None, "previous": None, "results": [good]} if self.is_list() else good


def example(name, value, status, form="application/json"):
    return OpenApiExample(name, value, status_codes=[str(status)], response_only=True, media_type=form)
