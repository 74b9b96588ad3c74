from coop.models import Carrier


def carriers_of(cooperative):
    return Carrier.objects.of(cooperative)
