"""Passwords: hashed with argon2; a check takes the same time for known and unknown e-mail addresses."""

from functools import cache

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

FEWEST_LETTERS = 12
MOST_LETTERS = 1024

_hasher = PasswordHasher()


@cache
def _nobody() -> str:
    """Return the hash that is checked for an unknown address, so that the time of an answer does not show who is a practitioner.

    The first check of a process makes it, for known and unknown addresses alike: most commands never check a password.
    """
    return _hasher.hash("nobody has this password")


def hash_password(password: str) -> str:
    """Hash a password for the records."""
    return _hasher.hash(password)


def is_right(password_hash: str | None, password: str) -> bool:
    """Whether a password belongs to a hash; False for None, the hash of an unknown address."""
    nobody = _nobody()
    try:
        _hasher.verify(password_hash or nobody, password)
    except (VerificationError, InvalidHashError):
        return False
    return password_hash is not None


def has_aged(password_hash: str) -> bool:
    """Whether a hash was made with a lower cost than today's, so that it should be replaced."""
    return _hasher.check_needs_rehash(password_hash)
