"""A parcel closes with the last of its cartons that holds fish, and with that its bill is written."""

from coop.models import ParcelState
from coop.services.bills import bill_to_write, write_bill
from coop.services.writing import written


def close_if_last(parcel, *, by, at):
    """Closes a parcel, of parcels_of, of which a carton is closed and no open one holds fish.

    Empty cartons give their places back.
    """
    closed = [carton for carton in parcel.cartons.all() if carton.closed_at]
    still_open = [carton for carton in parcel.cartons.all() if carton.closed_at is None]
    if not closed or any(carton.parts.all() for carton in still_open):
        return
    for carton in still_open:
        carton.delete()

    parcel.state = ParcelState.CLOSED
    parcel.closed_at = max(carton.closed_at for carton in closed)
    split = bill_to_write(parcel)
    parcel.sharing_rule = split.rule
    written(parcel)
    write_bill(parcel, split, by=by, at=at)
