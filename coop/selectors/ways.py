"""Send now alone, share, or wait: what each way costs, when it leaves, and how sure it is."""

from coop.selectors.ways_alone import alone_and_wait
from coop.selectors.ways_question import Way, WaysQuestion, dearness, known_of
from coop.selectors.ways_share import share


def ways_of(question: WaysQuestion) -> tuple[Way, Way, Way]:
    """The three ways for some fish, in that order; each says why it cannot be gone if it cannot."""
    known = known_of(question)
    alone, wait = alone_and_wait(known)
    return alone, share(known), wait


def best_of(ways) -> Way | None:
    """The cheapest of the ways that can be gone, or None."""
    return min((way for way in ways if way.trip), key=lambda way: dearness(way.trip), default=None)
