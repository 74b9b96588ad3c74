from coop.models import Carrier


def carriers_of(cooperative):
    return Carrier.objects.filter(cooperative=cooperative)
