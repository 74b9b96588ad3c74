"""Rows are written one way: checked as a form would, and once for each id that a phone gave them."""

from django.core.exceptions import ValidationError

from coop.errors import Conflict, Invalid, Problem


def checked(row, *, exclude=()):
    """The row; what its form refuses becomes a failure that names each field."""
    try:
        row.full_clean(exclude=exclude)
    except ValidationError as refused:
        problems = [
            Problem(field, getattr(row, field, None), " ".join(messages), "what its form accepts")
            for field, messages in refused.message_dict.items()
        ]
        raise Invalid(problems[0].problem, *problems) from refused
    return row


def written(row):
    """The row, checked and saved."""
    checked(row).save()
    return row


def first_answer(rows, uuid, **same):
    """The row that was written under this id before, or None; another thing under the same id is refused."""
    found = rows.filter(uuid=uuid).first() if uuid else None
    if found is None:
        return None
    for name, value in same.items():
        if getattr(found, name) != value:
            wrong = Problem("id", str(uuid), "was given to something else before", "a new id for a new thing")
            raise Conflict("This id was given to something else before.", wrong)
    return found


def identified(uuid):
    """The id that a phone gave, as a column; without one the row draws its own."""
    return {"uuid": uuid} if uuid else {}
