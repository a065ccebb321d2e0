"""Passwords: hashed with argon2, checked in the same time whether or not the address is known."""

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

FEWEST_LETTERS = 12
MOST_LETTERS = 1024

_hasher = PasswordHasher()
# Checked where there is no such address, so that the time taken does not tell who is a practitioner.
_NOBODY = _hasher.hash("nobody has this password")


def hash_password(password: str) -> str:
    """Hash a password for keeping."""
    return _hasher.hash(password)


def is_right(password_hash: str | None, password: str) -> bool:
    """Say whether a password is the one hashed; None stands for an unknown address, and is never right."""
    try:
        _hasher.verify(password_hash or _NOBODY, password)
    except (VerificationError, InvalidHashError):
        return False
    return password_hash is not None


def has_aged(password_hash: str) -> bool:
    """Say whether a hash was made at a lower cost than today's, and should be made anew."""
    return _hasher.check_needs_rehash(password_hash)
