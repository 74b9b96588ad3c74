from django.db.models import Prefetch

from coop.models import CartonDesign, DesignMaterial


def design_materials():
    return DesignMaterial.objects.select_related("material").prefetch_related("material__prices")


def carton_designs_of(cooperative):
    """Carton designs with what each needs, and the prices of that."""
    designs = CartonDesign.objects.of(cooperative)
    return designs.prefetch_related(Prefetch("materials", design_materials()))
