"""Limits on guessing a password: a known browser has its own limit; other browsers are counted by network.

A known browser may sign in while strangers guess. While many strangers guess the password of one e-mail address, each
network may fail only once in a few minutes. So the owner, at a new browser, waits a few minutes at most.
"""

from dataclasses import dataclass
from hashlib import sha256

from limits import parse_many

from webapp.sync.limits.tries import Guard, Tries, network_of

FROM_KNOWN_BROWSER = parse_many("10 per 15 minutes")
# All people of a clinic share one network, so this is for all of them together.
FROM_NETWORK = parse_many("60 per 15 minutes")
AT_ADDRESS_FROM_NETWORK = parse_many("10 per 15 minutes")
# So many wrong passwords for one e-mail address, from all networks together, are guesses. Then the second limit holds
# for each network.
AT_ADDRESS = parse_many("50 per hour")
WHILE_GUESSED_AT = parse_many("1 per 5 minutes")


@dataclass(frozen=True)
class Guards:
    """The limits of one sign-in.

    Attributes:
        passed: The limits that allow or refuse the try.
        counted: The limits that count the try if the password is wrong.
    """

    passed: tuple[Guard, ...]
    counted: tuple[Guard, ...]


def guards_of(tries: Tries, email: str, browser: str, address: str) -> Guards:
    """Return the limits that hold for one sign-in.

    Args:
        tries: The failures so far.
        email: The e-mail address that was typed; it may be unknown.
        browser: The browser's name if the owner of the e-mail address has signed in with it, else "".
        address: The network address of the browser.

    Returns:
        The limits. A known browser that failed too often has the limits of a stranger until its time is over.
    """
    typed, network = sha256(email.lower().encode()).hexdigest(), network_of(address)
    known = Guard(FROM_KNOWN_BROWSER, ("known browser", browser, typed))
    if browser and not tries.wait(known):
        return Guards((known,), (known,))
    from_network = Guard(FROM_NETWORK, ("sign-in", network))
    at_address = Guard(AT_ADDRESS_FROM_NETWORK, ("sign-in", network, typed))
    slowed = Guard(WHILE_GUESSED_AT, ("sign-in", network, typed))
    everywhere = Guard(AT_ADDRESS, ("sign-in from anywhere", typed))
    passed = (from_network, at_address, slowed) if tries.wait(everywhere) else (from_network, at_address)
    return Guards(passed, (from_network, at_address, slowed, everywhere))
