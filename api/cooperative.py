"""Which cooperative a request belongs to: decided here and nowhere else."""

from coop.selectors.cooperatives import demo_cooperative


def cooperative_of(request):
    """The demo, until people and their roles are known: every view asks here, so one place changes."""
    return demo_cooperative()
