"""What the command line says while it makes or changes a practitioner's account.

May know the codes of the faults; makes nothing.
"""

from webapp.words.catalogue import Words, mark

ASK = mark("Password: ")
ASK_AGAIN = mark("Once more: ")
MADE = mark("%(name)s can sign in with %(email)s.")
IS_NOW = {
    "owner": mark("%(name)s is an owner of %(practice)s."),
    "member": mark("%(name)s is a member of %(practice)s."),
}
IS_SET = mark(
    "%(name)s has another password, and is signed out everywhere. The new recovery code, to be handed over with it: %(code)s"
)
STAYS = {
    "owner": mark("%(name)s stays what they are: an owner of %(practice)s already, or without a password."),
    "member": mark("%(name)s stays what they are: a member of %(practice)s already, or without a password."),
}
FAULTS = {
    "name": mark("name is “%(value)s”: it must have 1 to %(most)s characters."),
    "email": mark("email is “%(value)s”: it must have one @ with something on both sides, and no space."),
    "telephone": mark(
        "telephone is “%(value)s”: it must have 3 to 20 digits, with one space or hyphen between them at most, and no brackets."
    ),
    "hours": mark("hours is “%(value)s”: it may have at most %(most)s characters."),
    "password": mark("password has %(value)s characters: it must have %(least)s to %(most)s."),
    "passwords_differ": mark("the two passwords differ: nothing was made; try again."),
    "nothing_typed": mark(
        "nothing was typed at the prompt. Without a terminal, send the password as one line with --password-stdin."
    ),
    "nobody": mark("nobody who works here signs in with “%(value)s”."),
    "last_owner": mark(
        "%(name)s is the only owner of %(practice)s who can sign in: nothing was changed. Make somebody else an owner first."
    ),
    "email_taken": mark("email “%(value)s” belongs to an account already: sign in with it, or give another."),
}


def account_fault(words: Words, code: str, **gaps: object) -> str:
    """Return why an account cannot be made, by code; an unknown code is a KeyError."""
    return words.say(FAULTS[code], **gaps)
