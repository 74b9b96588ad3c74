from django.db.models import OuterRef, Subquery

from coop.errors import NotFound
from coop.models import Cooperative, Terms

TERMS = (
    "confidence",
    "softened_share_limit",
    "closing_lead_minutes",
    "electricity_price_minor_per_kwh",
    "freezing_kwh_per_kg",
    "labour_price_minor_per_hour",
    "packing_minutes_per_carton",
    "stale_after_days",
)


def demo_cooperative():
    """The invented cooperative, on which reading is open to everybody."""
    cooperative = Cooperative.objects.filter(is_demo=True).first()
    if cooperative is None:
        raise NotFound("there is no demonstration yet: `manage.py demo` loads it")
    return cooperative


def cooperatives_of(cooperative):
    """What one cooperative sees of cooperatives: itself."""
    return Cooperative.objects.filter(pk=cooperative.pk)


def cooperatives_on(cooperative, day):
    """The same with the terms that count on a day, a column each; None where none do."""
    terms = Terms.objects.of(cooperative).on(day)
    columns = {name: Subquery(terms.filter(cooperative=OuterRef("pk")).values(name)[:1]) for name in TERMS}
    return cooperatives_of(cooperative).annotate(**columns)
