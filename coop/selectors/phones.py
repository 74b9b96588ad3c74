from django.utils import timezone
from knox.crypto import hash_token

from coop.models import Phone, PhoneToken


def token_of(words):
    """The stored token of these words with its holder and phone, or None where it counts no more.

    It is found by its digest alone, so a wrong token takes as long as any other; whether its phone was
    revoked or its holder left is looked at each time, so both are out at once.
    """
    tokens = PhoneToken.objects.select_related("phone", "user__member__cooperative")
    return tokens.filter(
        digest=hash_token(words),
        expiry__gt=timezone.now(),
        phone__revoked_at__isnull=True,
        user__is_active=True,
        user__member__isnull=False,
        user__member__left_on__isnull=True,
    ).first()


def phones_of(cooperative):
    """Phones with those who hold them."""
    return Phone.objects.of(cooperative).prefetch_related("tokens__user__member")
