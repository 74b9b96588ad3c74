"""A departure of the demo that leaves soon, at whatever hour the tests run: its cartons can be closed now."""

import os
import subprocess
import sys
from datetime import datetime, timedelta
from secrets import token_hex
from typing import NamedTuple
from zoneinfo import ZoneInfo

from tests.browser.demo_server import ROOT

ZONE = ZoneInfo("Africa/Lusaka")
ROUTE, BUYER = "mpulungu-mpika", "mpika-guesthouse"
CARRIER = "Minibus {number} of the test at {hour} (invented)"
# Far enough ahead to be filled and closed, near enough that fish which is closed now stays hard.
AHEAD = timedelta(hours=3)
# Every other carrier takes more, so that a plan takes this one.
FARE_MINOR = 1000
DEARER_MINOR = 2000
# Of several that leave soon a plan takes this one.
CHEAPEST_MINOR = 500

WRITE = """
from coop.models import Carrier, Route, Tariff, TariffRule, Timetable
from coop.models.timetables import WEEKDAYS
known = Carrier.objects.get(name__startswith="Night minibus")
route = Route.objects.get(slug="{route}", cooperative=known.cooperative)
known.pk, known.name = None, "{carrier}"
known.save(force_insert=True)
since = {{"valid_from": "2025-01-01", "figures": "invented", "source": "invented for a test"}}
of = {{"cooperative": known.cooperative, "carrier": known, "route": route}} | since
tariff = Tariff.objects.create(confirmed_on="2025-01-01", **of)
TariffRule.objects.create(tariff=tariff, position=1, kind="per_carton", amount_minor={fare})
Timetable.objects.create(
    departs_at_local="{hour}", delay_hours_mean=0.2, delay_hours_cv=0.5, **of, **dict.fromkeys(WEEKDAYS, True)
)
"""


class Soon(NamedTuple):
    """A departure by its day, and the name of its carrier."""

    date: str
    carrier: str
    route: str = ROUTE
    buyer: str = BUYER


def departure_soon(folder, fare_minor=FARE_MINOR):
    """Writes it beside the running server, into the data folder that both share."""
    leaves = (datetime.now(ZONE) + AHEAD).replace(second=0, microsecond=0)
    carrier = CARRIER.format(hour=f"{leaves:%H:%M}", number=token_hex(2))
    code = WRITE.format(route=ROUTE, carrier=carrier, fare=fare_minor, hour=f"{leaves:%H:%M}")
    environment = os.environ | {"CARTON_HOUR_DATA": str(folder)}
    command = [sys.executable, "manage.py", "shell", "-c", code]
    subprocess.run(command, cwd=ROOT, env=environment, check=True, capture_output=True)
    return Soon(date=f"{leaves:%Y-%m-%d}", carrier=carrier)
