"""How often somebody may fail at a secret: counted by who guesses, so that the person guessed at is not shut out.

The counts stand in memory. One process serves, and a restart forgets them.
"""

import ipaddress
import threading
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from limits import RateLimitItem
from limits.storage import Storage
from limits.strategies import FixedWindowRateLimiter

IPV6_NETWORK_BITS = 64
FEWEST_SWEPT = 1000


class Guard(NamedTuple):
    """What stands before a secret: the most failures, and whose they are."""

    most: Sequence[RateLimitItem]
    whose: tuple[str, ...]


class _Counts(Storage):
    """Counters by key, by the program's own clock: the package's storage in memory reads the machine's."""

    STORAGE_SCHEME = None
    base_exceptions = ()

    def __init__(self, clock: Callable[[], datetime]) -> None:
        super().__init__()
        self._clock = clock
        self._turn = threading.Lock()
        self._swept = 0
        self._counts: dict[str, tuple[int, float]] = {}

    def incr(self, key: str, expiry: float, amount: int = 1) -> int:
        """Raise a key's counter, which is of the window that its first count began."""
        now = self._now()
        with self._turn:
            self._sweep(now)
            count, ends_at = self._counts.get(key, (0, 0.0))
            if ends_at <= now:
                count, ends_at = 0, now + expiry
            self._counts[key] = (count + amount, ends_at)
            return count + amount

    def get(self, key: str) -> int:
        """Return a key's counter."""
        count, ends_at = self._counts.get(key, (0, 0.0))
        return count if ends_at > self._now() else 0

    def get_expiry(self, key: str) -> float:
        """Return when a key's window ends, in seconds since 1970."""
        return max(self._now(), self._counts.get(key, (0, 0.0))[1])

    def check(self) -> bool:
        """Say that memory can be reached."""
        return True

    def reset(self) -> int | None:
        """Forget everything; return how many counters there were."""
        with self._turn:
            count = len(self._counts)
            self._counts.clear()
            return count

    def clear(self, key: str) -> None:
        """Forget one key."""
        with self._turn:
            self._counts.pop(key, None)

    def _now(self) -> float:
        return self._clock().timestamp()

    def _sweep(self, now: float) -> None:
        """Drop the windows that are over, each time the counters have doubled."""
        if len(self._counts) >= max(FEWEST_SWEPT, 2 * self._swept):
            self._counts = {key: count for key, count in self._counts.items() if count[1] > now}
            self._swept = len(self._counts)


class Tries:
    """Failed tries of everybody, and how long each must wait.

    Ask `wait` before a secret is looked at, and call `fail` when it was wrong: right ones cost nothing, however many
    people share an address. Tries that are looked at in the same instant by several threads may pass together.
    """

    def __init__(self, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._limiter = FixedWindowRateLimiter(_Counts(clock))

    def wait(self, *guards: Guard) -> timedelta:
        """Return how long until these guards let another try pass; zero for at once."""
        used_up = [
            self._limiter.get_window_stats(item, *guard.whose).reset_time
            for guard in guards
            for item in guard.most
            if not self._limiter.test(item, *guard.whose)
        ]
        return timedelta(seconds=max(used_up) - self._clock().timestamp()) if used_up else timedelta()

    def fail(self, *guards: Guard) -> None:
        """Count one failure against each of these guards."""
        for guard in guards:
            for item in guard.most:
                self._limiter.hit(item, *guard.whose)


def network_of(address: str) -> str:
    """Return what one guesser can be known by: an IPv4 address, or the /64 that a household or a machine is given in IPv6."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if isinstance(found, ipaddress.IPv4Address):
        return str(found)
    if found.ipv4_mapped:
        return str(found.ipv4_mapped)
    return str(ipaddress.ip_network((found, IPV6_NETWORK_BITS), strict=False))
