from coop.errors import invalid
from coop.models import Terms


def terms_of(cooperative):
    """Terms of all days, the newest first."""
    return Terms.objects.of(cooperative).order_by("-valid_from")


def terms_on(cooperative, day) -> Terms:
    """The terms that count on a day; Invalid where none do."""
    return terms_among(terms_of(cooperative).on(day), day)


def terms_among(rows, day) -> Terms:
    """Those of some terms, read already, that count on a day; Invalid where none do."""
    found = next((row for row in rows if row.counts_on(day)), None)
    if found is None:
        raise invalid("terms", day, "no terms of the cooperative count on this day", "a day on which some do")
    return found
