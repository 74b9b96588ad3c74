from django.db.models import Prefetch

from coop.models import CartonDesign, DesignMaterial


def design_materials():
    return DesignMaterial.objects.select_related("material").prefetch_related("material__prices")


def carton_designs_of(cooperative):
    """All versions of all carton designs with what each needs, and the prices of that."""
    designs = CartonDesign.objects.of(cooperative)
    return designs.prefetch_related(Prefetch("materials", design_materials()))


def designs_between(cooperative, first_day, last_day):
    """Versions that count on at least one of these days, both ends among them."""
    found = carton_designs_of(cooperative).filter(valid_from__lte=last_day)
    return found.exclude(valid_until__lte=first_day)
