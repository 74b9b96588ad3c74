from coop.errors import NotFound
from coop.models import Cooperative


def demo_cooperative():
    """The invented cooperative, on which reading is open to everybody."""
    cooperative = Cooperative.objects.filter(is_demo=True).first()
    if cooperative is None:
        raise NotFound("there is no demonstration yet: `manage.py demo` loads it")
    return cooperative


def cooperatives_of(cooperative):
    """What one cooperative sees of cooperatives: itself."""
    return Cooperative.objects.filter(pk=cooperative.pk)
