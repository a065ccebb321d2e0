"""The recovery code of a practitioner: sixteen letters, shown once, kept as a hash."""

import secrets

from webapp.practice.door.passwords import hash_password, is_right
from webapp.records.invitations import CODE_LETTERS
from webapp.records.members import NewSecrets

LETTERS, PART = 16, 4
"""69 bits: 20 letters, sixteen times; nobody guesses it, and each check is slow on purpose."""


def drawn() -> str:
    """Draw a code, in parts as people write it down."""
    letters = "".join(secrets.choice(CODE_LETTERS) for _ in range(LETTERS))
    return "-".join(letters[start : start + PART] for start in range(0, LETTERS, PART))


def is_code(code_hash: str, typed: str) -> bool:
    """Whether somebody typed the code; spaces, hyphens and small letters do not matter."""
    return is_right(code_hash, _plain(typed))


def new_secrets(password: str, code: str) -> NewSecrets:
    """Hash a password and a code for the records."""
    return NewSecrets(hash_password(password), hash_password(_plain(code)))


def _plain(typed: str) -> str:
    return "".join(letter for letter in typed.upper() if letter.isalpha())
