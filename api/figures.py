from rest_framework import serializers

from api.editions import Edited

# What the examples of the description say of their own figures.
ESTIMATED = {"figures": "estimated", "source": "from memory"}
INVENTED = {"figures": "invented", "source": ""}


class Figured(serializers.Serializer):
    """Whether a figure was read, estimated or invented, and where it comes from."""

    figures = serializers.CharField()
    source = serializers.CharField()


class Dated(Edited):
    """What counts from one day until another; an open end is null, the last day named no longer counts."""

    valid_from = serializers.DateField()
    valid_until = serializers.DateField(allow_null=True)
