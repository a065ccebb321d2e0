"""Limits on failed tries of a secret. Failures count against the guesser, so that the owner of the secret is not locked out.

The counts are in memory. Only one process serves, and a restart forgets the counts.
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
    """A limit on failures: the most failures in a time, and the key of the guesser whose failures count."""

    most: Sequence[RateLimitItem]
    whose: tuple[str, ...]


class _Counts(Storage):
    """Counters by key. They use the program's clock; the in-memory storage of the package would use the machine's clock."""

    STORAGE_SCHEME = None
    base_exceptions = ()

    def __init__(self, clock: Callable[[], datetime]) -> None:
        super().__init__()
        self._clock = clock
        self._turn = threading.Lock()
        self._swept = 0
        self._counts: dict[str, tuple[int, float]] = {}

    def incr(self, key: str, expiry: float, amount: int = 1) -> int:
        """Raise a key's counter; the counter's window began with its first count."""
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
        """Return the end of a key's window, in seconds since 1970."""
        return max(self._now(), self._counts.get(key, (0, 0.0))[1])

    def check(self) -> bool:
        """Return True: memory is always available."""
        return True

    def reset(self) -> int | None:
        """Delete all counters; return their number."""
        with self._turn:
            count = len(self._counts)
            self._counts.clear()
            return count

    def clear(self, key: str) -> None:
        """Delete the counter of one key."""
        with self._turn:
            self._counts.pop(key, None)

    def _now(self) -> float:
        return self._clock().timestamp()

    def _sweep(self, now: float) -> None:
        """Delete the counters whose window is over, each time the number of counters has doubled."""
        if len(self._counts) >= max(FEWEST_SWEPT, 2 * self._swept):
            self._counts = {key: count for key, count in self._counts.items() if count[1] > now}
            self._swept = len(self._counts)


class Tries:
    """The failed tries of all guessers, and how long each guesser must wait.

    Call `wait` before a secret is checked, and `fail` if it was wrong. Right secrets cost nothing, however many people share
    an address. Tries that several threads check at the same instant may all pass.
    """

    def __init__(self, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._limiter = FixedWindowRateLimiter(_Counts(clock))

    def wait(self, *guards: Guard) -> timedelta:
        """Return the time until these limits allow another try; zero if they allow it now."""
        used_up = [
            self._limiter.get_window_stats(item, *guard.whose).reset_time
            for guard in guards
            for item in guard.most
            if not self._limiter.test(item, *guard.whose)
        ]
        return timedelta(seconds=max(used_up) - self._clock().timestamp()) if used_up else timedelta()

    def fail(self, *guards: Guard) -> None:
        """Count a failure against each of these limits."""
        for guard in guards:
            for item in guard.most:
                self._limiter.hit(item, *guard.whose)


def network_of(address: str) -> str:
    """Return the network of a guesser: an IPv4 address, or in IPv6 the /64, which a provider gives to a home or a machine."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if isinstance(found, ipaddress.IPv4Address):
        return str(found)
    if found.ipv4_mapped:
        return str(found.ipv4_mapped)
    return str(ipaddress.ip_network((found, IPV6_NETWORK_BITS), strict=False))
