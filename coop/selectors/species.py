from coop.engines.fish import half_frozen_temperature
from coop.errors import invalid
from coop.models import Species
from coop.selectors.engine_inputs import flesh_of


def all_species():
    """Every species; species belong to nobody."""
    return Species.objects.all()


def softens_at(species):
    """°C from which its flesh counts as softened; shares of which no flesh can consist are refused."""
    try:
        return float(half_frozen_temperature(flesh=flesh_of(species)))
    except ValueError as odd:
        right = "another species, until the shares of this one are mended"
        raise invalid("species", species.code, f"its flesh cannot be worked out: {odd}", right) from odd
