from coop.models import Member


def members_of(cooperative):
    return Member.objects.filter(cooperative=cooperative)
