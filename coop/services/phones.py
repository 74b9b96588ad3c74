from django.db import transaction

from coop.models import Phone, PhoneToken
from coop.services.locking import lock
from coop.services.roles import require_manager, require_own


@transaction.atomic
def revoke_phone(*, by, phone, at) -> Phone:
    """Puts a phone out at once, for all who hold it. Who holds it herself may, and a manager."""
    require_own(by, phone)
    lock(by.cooperative)
    holds_it = by.account_id is not None and phone.tokens.filter(user=by.account_id).exists()
    if not holds_it:
        require_manager(by, "revoke a phone that she does not hold")
    phone.refresh_from_db()
    phone.revoked_at = phone.revoked_at or at
    phone.save(update_fields=["revoked_at"])
    phone.tokens.all().delete()
    return phone


@transaction.atomic
def put_out(member, *, but=None):
    """Ends every token of a member, but the one on this phone."""
    tokens = PhoneToken.objects.of(member.cooperative).filter(user=member.account_id)
    tokens.exclude(phone=but).delete()
