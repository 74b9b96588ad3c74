from zoneinfo import ZoneInfo

from coop.models import Entry, EntryKind

PAYMENTS = (EntryKind.PAYMENT, EntryKind.PAYOUT)


def entries_of(cooperative):
    """Lines of all accounts, the newest first, with whom and what each names."""
    entries = Entry.objects.of(cooperative)
    return entries.select_related("member", "written_by", "parcel", "claim", "corrects").prefetch_related(
        "corrections"
    )


def payments_of(cooperative):
    """What members paid in and were paid out, the newest first."""
    return entries_of(cooperative).filter(kind__in=PAYMENTS)


def local_today(cooperative, now):
    """The day where the cooperative is."""
    return now.astimezone(ZoneInfo(cooperative.time_zone)).date()
