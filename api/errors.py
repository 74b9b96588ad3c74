"""The one shape of a failure, and the HTTP status that each failure gets.

Its words are English here; `api/refusal_words.py` tells them in the language of whoever asks.
"""

from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse, JsonResponse
from rest_framework import exceptions
from rest_framework.response import Response

from api.refusal_words import language_of, said_in, told
from coop import errors

STATUS = {
    errors.Invalid: 400,
    errors.NotKnown: 401,
    errors.NotAllowed: 403,
    errors.NotFound: 404,
    errors.Conflict: 409,
    errors.TooLarge: 413,
    errors.KeyTaken: 422,
    errors.TooOld: 426,
    errors.TooMany: 429,
}
CODES = {
    400: "invalid",
    401: "not_known",
    403: "not_allowed",
    404: "not_found",
    405: "not_allowed",
    409: "conflict",
    413: "too_large",
    429: "too_many",
}
WORDS = {
    400: "This request cannot be read.",
    403: "This is not allowed.",
    404: "There is nothing at this address.",
    429: "Too many tries with this name: wait a quarter of an hour.",
    500: "This is a fault of ours, not of what you asked; the server has it in its log.",
}


def shape(code, message, problems=()):
    """What every failure looks like from outside."""
    fields = [
        {"field": one.field, "value": shown(one.value), "problem": one.problem, "right": one.right}
        for one in problems
    ]
    return {"error": {"code": code, "message": message, "fields": fields}}


def shown(value):
    """The value as it was given, short enough to read; null when it was missing."""
    if value is None:
        return None
    text = (
        value
        if isinstance(value, str)
        else ", ".join(map(str, value))
        if isinstance(value, list)
        else str(value)
    )
    return text if len(text) <= 80 else f"{text[:79]}…"


def answer(failure, _context):
    """DRF's exception handler. What is not named here is a fault of ours and goes on to become a 500."""
    if isinstance(failure, errors.Failure):
        return Response(shape_of(failure), status=status_of(failure), headers=headers_of(failure))
    if isinstance(failure, Http404):
        failure = exceptions.NotFound(WORDS[404])
    if isinstance(failure, PermissionDenied):
        failure = exceptions.PermissionDenied(WORDS[403])
    if isinstance(failure, exceptions.APIException):
        status = failure.status_code
        return Response(shape(CODES.get(status, "invalid"), str(failure.detail)), status=status)
    return None


def plain(failure):
    """The same answer to a failure of ours, for a view outside of the framework."""
    return JsonResponse(shape_of(failure), status=status_of(failure), headers=headers_of(failure))


def status_of(failure):
    return next(status for kind, status in STATUS.items() if isinstance(failure, kind))


def shape_of(failure):
    return shape(failure.code, failure.message, failure.problems)


def headers_of(failure):
    """What HTTP itself wants to be told beside the shape."""
    if isinstance(failure, errors.NotKnown):
        return {"WWW-Authenticate": "Token"}
    if isinstance(failure, errors.TooMany):
        return {"Retry-After": str(failure.seconds)}
    return None


def locked_out(request, response, _credentials):
    """What the limit on tries answers with: ours says it already, the page of the tables says it so."""
    if response.status_code == 429:
        return response
    wait = str(int(settings.AXES_COOLOFF_TIME.total_seconds()))
    headers = {"Content-Type": "text/plain; charset=utf-8", "Retry-After": wait}
    language = language_of(request)
    return said_in(HttpResponse(told(WORDS[429], language), status=429, headers=headers), language)


def page(status):
    """Django's own handler for a failure outside of any view."""

    def handler(_request, *_arguments, **_named):
        return JsonResponse(shape(CODES.get(status, "failed"), WORDS[status]), status=status)

    return handler


bad_request, forbidden, nowhere, fault = page(400), page(403), page(404), page(500)
