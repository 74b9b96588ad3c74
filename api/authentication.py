"""Reads the token of a phone: one that is wrong, revoked or expired is refused and makes nobody a visitor."""

from rest_framework.authentication import BaseAuthentication, get_authorization_header

from coop.errors import NotKnown
from coop.selectors.phones import token_of

SCHEME = "Token"
WRONG = f"This is no token of ours; right is `{SCHEME} ` and the token of this phone."
OUT = "This phone is not known any more: enrol it again or sign in."


class PhoneAuthentication(BaseAuthentication):
    def authenticate(self, request):
        header = get_authorization_header(request)
        if not header:
            return None
        scheme, _, words = header.partition(b" ")
        if scheme.lower() != SCHEME.lower().encode() or not words.isascii():
            raise NotKnown(WRONG)
        token = token_of(words.decode("ascii").strip())
        if token is None:
            raise NotKnown(OUT)
        return token.user, token

    def authenticate_header(self, request):
        return SCHEME
