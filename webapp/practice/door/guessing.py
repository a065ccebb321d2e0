"""How wrong passwords are slowed: what counts against whom, for browsers that are known and for strangers.

A known browser is let through while strangers guess. A stranger is counted by network, and while many strangers guess at
one address, each network may be wrong once in a few minutes only: the owner at a new browser waits that long at most.
"""

from dataclasses import dataclass
from hashlib import sha256

from limits import parse_many

from webapp.sync.tries import Guard, Tries, network_of

FROM_KNOWN_BROWSER = parse_many("10 per 15 minutes")
# A clinic sits behind one address, so all its people together may mistype this often.
FROM_NETWORK = parse_many("60 per 15 minutes")
AT_ADDRESS_FROM_NETWORK = parse_many("10 per 15 minutes")
# So many wrong passwords for one address, from wherever, are guesses; then each network may be wrong this often only.
AT_ADDRESS = parse_many("50 per hour")
WHILE_GUESSED_AT = parse_many("1 per 5 minutes")


@dataclass(frozen=True)
class Guards:
    """What one try has to pass, and what it counts against if it fails."""

    passed: tuple[Guard, ...]
    counted: tuple[Guard, ...]


def guards_of(tries: Tries, email: str, browser: str, place: str) -> Guards:
    """Say what one try at a password has to pass.

    Args:
        tries: The failures so far.
        email: The address that was typed, known here or not.
        browser: The browser's name if it is known to the owner of the address, else "".
        place: The network address that the try comes from.

    Returns:
        The guards. A known browser that was wrong too often is a stranger until its time is over.
    """
    typed, network = sha256(email.lower().encode()).hexdigest(), network_of(place)
    known = Guard(FROM_KNOWN_BROWSER, ("known browser", browser, typed))
    if browser and not tries.wait(known):
        return Guards((known,), (known,))
    from_network = Guard(FROM_NETWORK, ("sign-in", network))
    at_address = Guard(AT_ADDRESS_FROM_NETWORK, ("sign-in", network, typed))
    slowed = Guard(WHILE_GUESSED_AT, ("sign-in", network, typed))
    everywhere = Guard(AT_ADDRESS, ("sign-in from anywhere", typed))
    passed = (from_network, at_address, slowed) if tries.wait(everywhere) else (from_network, at_address)
    return Guards(passed, (from_network, at_address, slowed, everywhere))
