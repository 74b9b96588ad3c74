"""What departures of one day are held to: the limit of the buyer, the cooperative's confidence, its lead."""

from dataclasses import dataclass

from coop.selectors.buyer_limits import limit_among
from coop.selectors.terms import terms_among, terms_of


@dataclass(frozen=True)
class Standard:
    """Limit, confidence 0–1, and s from closing the carton to being beside the vehicle."""

    limit_kind: str
    limit_value: float
    confidence: float
    lead: float


def standard_among(question, terms, limits, day) -> Standard:
    """What counts on the day of a departure; what the question asks for itself goes before it."""
    counting = terms_among(terms, day)
    kind, value = question.limit_kind, question.limit_value
    if kind is None:
        limit = limit_among(limits, question.buyer, day)
        kind, value = limit.limit_kind, limit.limit_value
    confidence = counting.confidence if question.confidence is None else question.confidence
    return Standard(kind, value, confidence, counting.closing_lead_minutes * 60.0)


def standard_on(question, day) -> Standard:
    """The same, read anew."""
    return standard_among(question, terms_of(question.cooperative), question.buyer.limits.all(), day)
