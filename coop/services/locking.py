from coop.models import Cooperative


def lock(cooperative) -> Cooperative:
    """The row of a cooperative, held until the transaction ends: whatever its members do waits in line.

    Every service that looks before it writes takes it first, so that two of them never look at the same time.
    SQLite has one writer anyway; PostgreSQL has not.
    """
    return Cooperative.objects.select_for_update().get(pk=cooperative.pk)
