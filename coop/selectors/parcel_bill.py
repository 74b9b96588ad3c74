"""What is really paid for a parcel as it stands: no fish, and nothing that is only expected."""

from django.db.models import Prefetch

from coop.engines.carton import capacity
from coop.models import BillLine, Parcel, Part
from coop.selectors.cartons import design_materials
from coop.selectors.cost import Bill, bill_of_cartons, prices_for
from coop.selectors.engine_inputs import carton_of
from coop.selectors.parcel_judgement import local_day


def billed_parcel(parcel):
    """A parcel with all that its bill and its split rest on, read anew in a fixed number of questions."""
    parts = Part.objects.of(parcel.cooperative_id).select_related("lot__member", "lot__species")
    found = Parcel.objects.of(parcel.cooperative_id).select_related(
        "cooperative", "route", "buyer", "timetable__carrier", "design"
    )
    return found.prefetch_related(
        Prefetch("cartons__parts", parts), Prefetch("design__materials", design_materials())
    ).get(pk=parcel.pk)


def parcel_prices(parcel):
    """Fares and charges of a parcel's way; what the fish fetches is no part of a bill."""
    return prices_for(parcel.cooperative, parcel.route, parcel.buyer, None)


def bill_of_parcel(parcel, prices) -> Bill:
    """The exact bill of the cartons that hold fish, each packed by its own kilograms."""
    masses = [carton.mass_kg for carton in parcel.cartons.all() if carton.mass_kg]
    fits = capacity(carton_of(parcel.design))
    if not masses:
        return Bill(None, ("fish in any carton",))
    if max(masses) > fits:
        return Bill(None, (f"room for {max(masses):g} kg in a carton of {parcel.design.name} as it is now",))
    return bill_of_cartons(
        prices,
        carrier=parcel.timetable.carrier,
        design=parcel.design,
        masses_kg=masses,
        day=local_day(parcel),
    )


def bill_lines_of(parcel, cost):
    """Rows of the lines of a cost, not written yet."""
    return [_bill_line(parcel, position, line) for position, line in enumerate(cost.lines, start=1)]


def _bill_line(parcel, position, line):
    # A share that is taken off has a negative quantity; the row says it by its rate.
    sign = -1 if line.quantity < 0 else 1
    return BillLine(
        parcel=parcel,
        position=position,
        code=line.code,
        name=line.name,
        amount_minor=line.amount_minor,
        quantity=float(sign * line.quantity),
        unit=line.unit,
        rate_minor=int(sign * line.rate_minor),
        priced_on=line.priced_on,
    )
