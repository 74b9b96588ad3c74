"""What fields of bodies, questions and filters say: what would be right, and what is wrong with a value."""

from rest_framework import serializers

from api.body import right_of
from api.filtering import right_for
from api.question import words
from api.urls import urlpatterns
from tests.api.refusal_sources import GAP

SAMPLE = "7"
# Said of nothing that can be sent: types are looked at before, and these names have no other letters.
NEVER_SAID = {"invalid_unicode", "datetime", "not_a_list"}
NEVER_INVALID = (serializers.CharField, serializers.BaseSerializer)


def texts_of_fields():
    """Each text with samples in its holes."""
    found = set()
    for view in views():
        for field in fields_asked(view):
            found.add(right_of(field))
            found |= {filled(words([str(said)])) for said in messages_of(field)}
        for one in getattr(getattr(view, "filters", None), "base_filters", {}).values():
            found.add(right_for(one.field))
            # No filter must be named.
            said = [said for key, said in one.field.error_messages.items() if key != "required"]
            said += [rule.message for rule in one.field.validators if rule.message]
            found |= {filled(str(each).rstrip(".")) for each in said}
    return found - {""}


def views():
    found = (getattr(route.callback, "cls", None) for route in urlpatterns)
    return [view for view in found if view is not None]


def fields_asked(view):
    for name in ("question", "body"):
        asked = getattr(view, name, None) or {}
        for serializer in asked.values() if isinstance(asked, dict) else [asked]:
            yield from inner(serializer())


def inner(field):
    if isinstance(field, serializers.ListField | serializers.ListSerializer):
        yield from whole(field.child)
    elif isinstance(field, serializers.BaseSerializer):
        for one in field.fields.values():
            if not one.read_only:
                yield from whole(one)


def whole(field):
    yield field
    yield from inner(field)


def messages_of(field):
    for key, said in field.error_messages.items():
        if key not in NEVER_SAID and not (key == "invalid" and isinstance(field, NEVER_INVALID)):
            yield said
    yield from (one.message for one in field.validators if hasattr(one, "message"))


def filled(text):
    return GAP.sub(SAMPLE, text)
