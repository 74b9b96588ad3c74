import hashlib

from coop.services.secret_links import ALPHABET, BITS, LENGTH, digest_of, new_secret


def test_a_secret_has_128_bits_at_least():
    # OWASP ASVS 5.0, 7.2.3: tokens of 128 bits or more (reference, §10).
    assert BITS >= 128
    assert len(set(ALPHABET)) == len(ALPHABET)


def test_secrets_are_drawn_anew_and_written_so_that_no_program_cuts_an_address_short():
    found = [new_secret() for _ in range(200)]
    assert len({secret for secret, _ in found}) == 200
    assert all(secret.isascii() and secret.isalnum() and len(secret) == LENGTH for secret, _ in found)
    # Every letter is drawn sooner or later: 5 200 draws of 62.
    assert set("".join(secret for secret, _ in found)) == set(ALPHABET)


def test_a_digest_is_sha_256_and_says_nothing_of_its_secret():
    secret, digest = new_secret()
    assert digest == digest_of(secret) == hashlib.sha256(secret.encode()).hexdigest()
    # FIPS 180-4, one of its worked examples: the digest of "abc".
    assert digest_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
