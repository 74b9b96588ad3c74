"""Versions of the pages, as they are written and as they are compared."""


def version_of(given):
    """Numbers with dots as a tuple of three; None for anything else."""
    parts = given.strip().split(".")
    if len(parts) > 3 or not all(part.isascii() and part.isdigit() and len(part) < 7 for part in parts):
        return None
    return tuple(int(part) for part in [*parts, "0", "0"][:3])
