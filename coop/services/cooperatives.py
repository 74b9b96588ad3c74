from django.db import transaction

from coop.models import Cooperative
from coop.services.locking import lock
from coop.services.roles import require_manager
from coop.services.writing import written


@transaction.atomic
def choose_rules(*, by, **rules) -> Cooperative:
    """How bills (`sharing_rule`) and losses (`claims_rule`) are shared from now on; what is closed stays."""
    require_manager(by, "choose how things are shared")
    cooperative = lock(by.cooperative)
    for name, rule in rules.items():
        setattr(cooperative, name, rule)
    return written(cooperative)
