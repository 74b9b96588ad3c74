"""What a phone asks for: since when, about which fish, and whether to spare data."""

from django.http import QueryDict
from rest_framework import serializers

from api.departures_question import DeparturesQuestion
from api.question import surplus, unfit

DEPARTURES = "/api/v1/departures/?"
MOST_ABOUT = 3
LONGEST = 600
RIGHT = f"the path of a list of departures such as {DEPARTURES}route=mpulungu-kasama&species=IRQ&…"


class DeparturesPath(serializers.CharField):
    """A path of the list of departures whose parameters are all right; whether its rows exist shows later."""

    default_error_messages = {"path": "is no list of departures: {why}"}

    def __init__(self):
        super().__init__(max_length=LONGEST, help_text=RIGHT)

    def to_internal_value(self, data):
        path = super().to_internal_value(data)
        if len(path) > LONGEST:
            self.fail("max_length", max_length=LONGEST)
        if not path.startswith(DEPARTURES):
            self.fail("path", why=f"it begins with {DEPARTURES}")
        found = faults_of(QueryDict(path.removeprefix(DEPARTURES)))
        if found:
            self.fail("path", why=f"{found[0].field} {found[0].problem}")
        return path


def faults_of(query):
    """Problems of the parameters of a path, as the list itself would name them."""
    question = DeparturesQuestion()
    many = ("carton_design",)
    question.initial_data = {
        name: query.getlist(name) if name in many else query[name]
        for name in query
        if name in question.fields
    }
    return surplus(query, question.fields, many=many) + ([] if question.is_valid() else unfit(question))


class KeptQuestion(serializers.Serializer):
    since = serializers.CharField(
        max_length=64,
        required=False,
        help_text="the cursor of what this phone has; an unknown one is as none",
    )
    about = serializers.ListField(
        child=DeparturesPath(),
        max_length=MOST_ABOUT,
        default=list,
        help_text=f"up to {MOST_ABOUT} times {RIGHT}: the holder's own last questions; else the usual one",
    )
    sparing = serializers.BooleanField(default=False, help_text="true: fewer departures come in full")
