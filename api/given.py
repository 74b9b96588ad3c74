"""Things that a phone names before the server has them: the same id again is the same thing."""

from rest_framework import serializers

from coop.errors import invalid

WHAT = "an id such as 7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11"


class Given(serializers.Serializer):
    """The id that the phone drew when its form opened; sent again, it is answered with the first row."""

    id = serializers.UUIDField(source="uuid", required=False, help_text=WHAT)

    example = {"id": "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11"}


def status_of(written_at, now):
    """201 of what was made just now, 200 of what was there under its id."""
    return 201 if written_at == now else 200


def known(rows, field, uuid, what):
    """The row of ours that an id in a body names; another cooperative's is as unknown as none at all."""
    row = rows.filter(uuid=uuid).first()
    if row is None:
        raise invalid(field, str(uuid), "is not known", what)
    return row
