from datetime import datetime, time
from functools import reduce
from pathlib import Path
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core import serializers
from django.db import transaction
from django.utils import timezone

from coop.models import Cooperative, DesignMaterial, TariffRule, TariffStep
from coop.services.demo_parcels import fill_demo
from coop.services.demo_quotes import fill_quotes

# What is pointed at comes before what points at it.
FIXTURES = (
    "places",
    "climates",
    "species",
    "cooperatives",
    "members",
    "terms",
    "routes",
    "legs",
    "carriers",
    "timetables",
    "tariffs",
    "tariff_rules",
    "tariff_steps",
    "materials",
    "material_prices",
    "carton_designs",
    "design_materials",
    "fish_prices",
    "buyers",
    "buyer_limits",
    "receiving_hours",
    "charges",
    "freezers",
    "separations",
)
WHOLE = {DesignMaterial: "design", TariffRule: "tariff", TariffStep: "rule"}
"""What a part without days of its own hangs on."""


@transaction.atomic
def load_demo(now=None) -> int:
    """Loads the invented cooperative where there is none yet, and answers with the number of new rows.

    What it has on the road lies around the day of loading: a second or two for each closed carton.

    Once it is there, nothing is loaded: what people changed or took away since stays as they left it. A place
    or a species that somebody entered before keeps their figures, too.
    """
    if Cooperative.objects.filter(is_demo=True).exists():
        return 0
    now = now or timezone.now()
    rows = sum(load_fixture(name, now) for name in FIXTURES)
    cooperative = Cooperative.objects.get(is_demo=True)
    return rows + fill_demo(cooperative, now) + fill_quotes(cooperative, now)


def load_fixture(name: str, now: datetime) -> int:
    """Writes the rows of one fixture that are not there yet, each checked as a form would.

    The history of a dated row begins with the row, so that what it cost until now can be worked out.
    """
    text = fixture_path(name).read_text(encoding="utf-8")
    rows = [found.object for found in serializers.deserialize("json", text)]
    new = [row for row in rows if row.pk is None]
    for row in new:
        # The database refuses by its constraints itself; to ask it beforehand more than doubles the time.
        row.full_clean(validate_constraints=False)
        if hasattr(row, "history"):
            row._history_date = min(counts_since(row), now)
        row.save()
    return len(new)


def counts_since(row) -> datetime:
    """The instant from which a dated row counts, or a part of one."""
    while type(row) in WHOLE:
        row = getattr(row, WHOLE[type(row)])
    cooperative = reduce(getattr, row.owned_through.split("__"), row)
    return datetime.combine(row.valid_from, time.min, ZoneInfo(cooperative.time_zone))


def fixture_path(name: str) -> Path:
    return Path(settings.FIXTURE_DIRS[0]) / f"{name}.json"
