"""A small cooperative in the middle of its work, and phones of its people that keep everything."""

import json
from datetime import timedelta

from django.utils import timezone

from tests.api.parcel_rows import billed_parcel, claim, payment
from tests.api.people import client_of
from tests.api.quote_rows import quote
from tests.api.test_kept_shortened import lengthened
from tests.factories.lots import LotFactory
from tests.factories.parcels import PartFactory, lot_of, parcel_of
from tests.factories.scene import trade
from tests.services.kept_phone import KeptPhone

KEPT = "/api/v1/kept/"
NOWHERE = "/api/v1/departures/?route=nowhere&species=IRQ&mass_kg=80&start_temperature_c=-18"
"""No departures: working them out takes most of the time of a download."""


def at_work(cast):
    """Something of each kind: an open parcel with the owner's fish, a bill, a claim, a quote, money."""
    shore = trade(cast.ours)
    departs_at = timezone.now().replace(hour=14, minute=0, second=0, microsecond=0) + timedelta(days=2)
    parcel = parcel_of(shore, departs_at=departs_at)
    PartFactory(carton=parcel.cartons.get(), lot=lot_of(shore, member=cast.owner, mass_kg=40))
    LotFactory(cooperative=cast.ours, member=cast.owner)
    for member in (cast.owner, cast.fellow):
        billed_parcel(cast.ours, member)
        payment(cast.ours, member)
        claim(cast.ours, member)
        quote(cast.ours, member)
    return shore


class Phone(KeptPhone):
    """A phone in somebody's hands, before the real interface; about no departures unless that is said."""

    def __init__(self, member, phone=None, **usually):
        super().__init__()
        self.client, self.usually = client_of(member, phone), usually or {"about": NOWHERE}

    def ask(self, **asked):
        since = {"since": self.cursor} if self.cursor else {}
        asked = self.usually | since | asked
        response = self.client.get(KEPT, asked, headers={"accept-encoding": "identity"})
        assert response.status_code == 200, response.content
        return json.loads(response.content)

    def keep(self, answer):
        self.take(answer | {"documents": lengthened(answer["documents"])})

    def refresh(self, **asked):
        self.keep(self.ask(**asked))
        return self

    def asked_at(self, path):
        """What the interface itself says there now."""
        response = self.client.get(path)
        assert response.status_code == 200, path
        return response.json()


def lasting(answer):
    """Without the moment of asking."""
    return {name: value for name, value in answer.items() if name != "worked_out_at"}
