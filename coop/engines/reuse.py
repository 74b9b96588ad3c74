"""What lasts longer than one trip: boxes that come back, and equipment."""

from bisect import bisect_left
from fractions import Fraction
from typing import NamedTuple

from coop.engines.money import exact, half_up, whole

MOST_TRIPS = 1000
MOST_YEARS = 100


class BoxChoice(NamedTuple):
    """Cost of a trip in minor units, exact, by returnable box and by one-way carton.

    saving is what the box saves on a trip; least_trips is from how many trips on it is no dearer, or None.
    """

    box: Fraction
    one_way: Fraction
    saving: Fraction
    least_trips: int | None


def expected_uses(*, trips, loss_chance):
    """Trips that a box makes on average before it is worn out or lost.

    trips         int      –   that it lasts, 1 … 1000
    loss_chance   number   –   of each trip, that it does not come back, 0 … 1

    Returns Fraction, 1 … trips; the trip on which it gets lost counts, since it carried fish.
    Raises ValueError for trips or a chance out of range.
    Source: No source: mean of a geometric number cut at trips, (1 − (1 − q)^n) / q.
    """
    trips = whole("trips", trips, least=1, most=MOST_TRIPS)
    loss_chance = exact("loss_chance", loss_chance, most=1)
    if not loss_chance:
        return Fraction(trips)
    return (1 - (1 - loss_chance) ** trips) / loss_chance


def returnable_against_one_way(*, box_price, trips, loss_chance, return_fare, one_way_price, care=0):
    """A box that comes back against a carton that stays with the buyer, in the mean over many trips.

    box_price       int      minor units   of a new box, ≥ 0
    trips           int      –             that it lasts, 1 … 1000
    loss_chance     number   –             of each trip, that it does not come back, 0 … 1
    return_fare     int      minor units   of bringing one empty box back, ≥ 0; not paid for one that is lost
    one_way_price   int      minor units   of everything that a one-way carton needs instead, ≥ 0
    care            int      minor units   of washing and mending a box that has come back, ≥ 0

    Returns BoxChoice.
    Raises ValueError that names the argument and the value that is out of range.
    Source: No source: price over expected uses (renewal-reward theorem, any text) plus the mean of what a
        trip adds.
    """
    box_price, one_way_price = whole("box_price", box_price), whole("one_way_price", one_way_price)
    each_time = whole("return_fare", return_fare) + whole("care", care)
    uses = expected_uses(trips=trips, loss_chance=loss_chance)
    lost = exact("loss_chance", loss_chance, most=1)
    box = box_price / uses + (1 - lost) * each_time
    allowed = one_way_price - (1 - lost) * each_time
    return BoxChoice(
        box, Fraction(one_way_price), one_way_price - box, _least_trips(box_price, allowed, lost)
    )


def equivalent_annual_cost(*, price, years, interest):
    """Equal yearly amount that repays a purchase and the interest on it.

    price      int      minor units   ≥ 0
    years      int      –             that the thing lasts, 1 … 100
    interest   number   –             a year, 0 … 10

    Returns int minor units a year, rounded half up.
    Raises ValueError that names the argument and the value that is out of range.
    Source: annuity formula P r / (1 − (1 + r)^−n), any text on engineering economics.
    """
    price, years = whole("price", price), whole("years", years, least=1, most=MOST_YEARS)
    interest = exact("interest", interest, most=10)
    if not interest:
        return half_up(Fraction(price, years))
    return half_up(price * interest / (1 - (1 + interest) ** -years))


def _least_trips(price, allowed, lost):
    """Fewest trips a box must last for its price a trip to be at most what is allowed."""

    def pays(trips):
        return price <= allowed * expected_uses(trips=trips, loss_chance=lost)

    found = bisect_left(range(1, MOST_TRIPS + 1), True, key=pays) + 1
    return found if found <= MOST_TRIPS else None
