"""A carton that several members fill, on Monday's departure of the small trade of the factories."""

from types import SimpleNamespace

from coop.selectors.parcel_bill import billed_parcel
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import ParcelCartonFactory, PartFactory, lot_of, parcel_of
from tests.factories.scene import trade

SHORT_WAY = {"distance_km": 90, "hours_mean": 2.0, "hours_floor": 1.2}
"""A way on which a carton with little fish in it stays hard, too."""


def shared_carton(*masses_kg, cooperative=None, leg=None, cartons=1, **terms):
    """A trade with an open parcel in whose cartons, by turns, one lot of each of several members lies."""
    shore = trade(cooperative or CooperativeFactory(), leg=leg, **terms)
    parcel = parcel_of(shore)
    rows = [parcel.cartons.get()]
    rows += [ParcelCartonFactory(parcel=parcel, position=n) for n in range(2, cartons + 1)]
    members = []
    for number, mass in enumerate(masses_kg):
        member = MemberFactory(cooperative=shore.cooperative, name=f"Member {chr(65 + number)}")
        PartFactory(carton=rows[number % cartons], lot=lot_of(shore, member=member, mass_kg=mass))
        members.append(member)
    return SimpleNamespace(shore=shore, parcel=parcel, members=members, read=lambda: billed_parcel(parcel))
