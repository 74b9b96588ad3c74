from coop.models import Separation


def separations_of(cooperative):
    """Species that may not share a carton, two and two."""
    return Separation.objects.of(cooperative).select_related("one", "other")


def pairs_apart(cooperative):
    """The same as a set of unordered pairs of keys."""
    return {row.pair for row in separations_of(cooperative)}


def apart_from(pairs, one, others):
    """Species among `others` that may not lie beside `one`."""
    return [other for other in others if frozenset((one.pk, other.pk)) in pairs]
