"""Questions about the small trade of the factories."""

from datetime import date, timedelta

from coop.selectors.buyers import buyers_of
from coop.selectors.cartons import carton_designs_of
from coop.selectors.departure_slots import Question
from coop.selectors.routes import routes_of

MONDAY = date(2026, 3, 2)


def question(trade, *, days=1, **changes):
    """80 kg at −18 °C in every carton of the cooperative, from a Monday on."""
    cooperative = trade.cooperative
    values = {
        "cooperative": cooperative,
        "route": routes_of(cooperative).get(pk=trade.route.pk),
        "buyer": buyers_of(cooperative).get(pk=trade.buyer.pk),
        "species": trade.species,
        "designs": tuple(carton_designs_of(cooperative)),
        "mass_kg": 80.0,
        "start_temperature_c": -18.0,
        "first_day": MONDAY,
        "last_day": MONDAY + timedelta(days=days - 1),
        "closes_at": None,
        "deliver_by": None,
        "limit_kind": "softened_share",
        "limit_value": 0.05,
        "confidence": 0.95,
    }
    return Question(**(values | changes))
