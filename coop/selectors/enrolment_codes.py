from coop.models import EnrolmentCode


def open_codes_of(cooperative, at):
    """Codes that still count, with whose they are; what they say nobody knows any more."""
    codes = EnrolmentCode.objects.of(cooperative).filter(used_at__isnull=True, expires_at__gt=at)
    return codes.select_related("member", "issued_by")
