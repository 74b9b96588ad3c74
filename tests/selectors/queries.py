"""How many questions a selector asks the database."""

from django.db import connection
from django.test.utils import CaptureQueriesContext


def questions(read):
    with CaptureQueriesContext(connection) as asked:
        read()
    return len(asked)


def same_for_many(make, read, *, most):
    """One row and thirty take the same number of questions, and no more than `most`."""
    make()
    for_one = questions(read)
    for _ in range(29):
        make()
    assert questions(read) == for_one <= most
