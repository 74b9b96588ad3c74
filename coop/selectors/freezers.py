from coop.models import Freezer


def freezers_of(cooperative):
    return Freezer.objects.of(cooperative)
