"""Parcels with their cartons and whose fish lies in them, and the places that a departure has left."""

import math

from django.db.models import Exists, OuterRef, Prefetch

from coop.engines.carton import capacity
from coop.errors import NotFound
from coop.models import Parcel, ParcelCarton, ParcelState, Part
from coop.selectors.engine_inputs import carton_of


def parcels_of(cooperative):
    """Parcels with all that an answer about them and a judgement of their cartons needs."""
    parts = Part.objects.of(cooperative).select_related("lot__member", "lot__species")
    cartons = ParcelCarton.objects.of(cooperative).select_related("closed_by")
    found = Parcel.objects.of(cooperative).select_related(
        "cooperative",
        "route__origin",
        "route__destination",
        "buyer__place",
        "timetable__carrier",
        "design",
        "opened_by",
    )
    return found.prefetch_related(
        Prefetch("cartons", cartons),
        Prefetch("cartons__parts", parts),
        "route__legs",
        "buyer__limits",
        "buyer__receiving_hours",
    )


def parcel_named(cooperative, uuid):
    """One parcel of a cooperative by its id."""
    found = parcels_of(cooperative).filter(uuid=uuid).first()
    if found is None:
        raise NotFound("There is no such parcel.")
    return found


def carton_at(parcel, position):
    """One carton of a parcel by its number."""
    found = next((row for row in parcel.cartons.all() if row.position == position), None)
    if found is None:
        raise NotFound(f"This parcel has no carton {position}.")
    return found


def open_parcels_between(cooperative, route, buyer, *, begins_at, ends_at):
    """Open parcels of one way that are planned to leave between two instants, the first one first."""
    found = parcels_of(cooperative).filter(route=route, buyer=buyer, state=ParcelState.OPEN)
    return found.filter(departs_at__gte=begins_at, departs_at__lte=ends_at).order_by("departs_at", "pk")


def cartons_with_places(cooperative):
    """Cartons that have a place of a vehicle: those of a parcel that was called off gave it back."""
    return ParcelCarton.objects.of(cooperative).exclude(parcel__state=ParcelState.CALLED_OFF)


def places_left(timetable, departs_at):
    """Places for cartons that a departure has left: an empty carton keeps its place until it is dropped."""
    taken = cartons_with_places(timetable.cooperative_id).filter(
        parcel__timetable__carrier=timetable.carrier_id,
        parcel__timetable__route=timetable.route_id,
        parcel__departs_at=departs_at,
    )
    return timetable.carrier.carton_places - taken.count()


def places_taken_between(cooperative, *, begins_at, ends_at):
    """Cartons of each departure, by its `vehicle_key`, for whoever asks about many departures."""
    taken = {}
    rows = cartons_with_places(cooperative).filter(
        parcel__departs_at__gte=begins_at, parcel__departs_at__lte=ends_at
    )
    vehicle = ("parcel__timetable__carrier_id", "parcel__timetable__route_id", "parcel__departs_at")
    for departure in rows.values_list(*vehicle):
        taken[departure] = taken.get(departure, 0) + 1
    return taken


def capacity_kg(design):
    """Fish that one carton of a design holds, down to a tenth of a kilogram."""
    return math.floor(capacity(carton_of(design)) * 10) / 10


def left_too_late(parcel):
    """Cartons that were on the road only after the last hour at which that was safe."""
    if parcel.departed_at is None:
        return []
    last = ((carton, carton.latest_safe_departure_at) for carton in parcel.cartons.all())
    return [carton for carton, latest in last if latest and parcel.departed_at > latest]


def with_own(parcels, member):
    """Parcels with `has_own`: whether fish of a member lies in them, a column that lists filter by."""
    own = Part.objects.of(member.cooperative_id).filter(lot__member=member, carton__parcel=OuterRef("pk"))
    return parcels.annotate(has_own=Exists(own))
