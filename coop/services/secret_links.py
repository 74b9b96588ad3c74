"""Secrets that open something without an account: told once, kept as their digest."""

import hashlib
import math
import secrets
import string

# Letters and digits only: programs that make an address of a text stop at anything else.
ALPHABET = string.ascii_letters + string.digits
LENGTH = 26
BITS = LENGTH * math.log2(len(ALPHABET))


def new_secret():
    """(secret, digest): the secret is told this once and stored nowhere."""
    secret = "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))
    return secret, digest_of(secret)


def digest_of(secret):
    """What is stored of a secret: with so many random bits nobody finds it by trying."""
    return hashlib.sha256(secret.encode()).hexdigest()
