"""Slows down whoever guesses: after a few free tries each further one has to wait longer, up to a limit.

Nothing is ever locked: the longest wait is bounded, and it falls only on the keys given, such as one account tried from
one address. Counts live in Django's cache, which all web workers share, and a try is counted before its outcome is
known, so that a hundred guesses sent at once are a hundred tries and not one.
"""

import hashlib
import ipaddress
import time
from dataclasses import dataclass

from django.core.cache import cache

MOST_RACES = 40  # more callers than this at the same moment wait like anybody else


@dataclass(frozen=True)
class Throttle:
    """`free` tries at once, then waits of `first_wait_s`, doubled each time up to `longest_wait_s` [s].

    Everything is forgotten when nobody has tried for `forget_after_s` [s].
    """

    name: str
    free: int = 5
    first_wait_s: float = 2
    longest_wait_s: float = 300
    forget_after_s: float = 12 * 3600

    def take(self, *about, now=None):
        """Count a try about these words. 0 lets it go ahead; otherwise the seconds to wait, and it is not counted."""
        now = time.time() if now is None else now
        key = self._key(about)
        number = self._tries(key)
        for _ in range(MOST_RACES):
            left = self._left(key, number, now)
            if left > 0:
                return left
            # Only one caller gets each number, whichever worker it asks.
            if cache.add(f"{key}:{number + 1}", now, self.forget_after_s):
                cache.set(key, number + 1, self.forget_after_s)
                return 0
            number += 1
        return self.first_wait_s

    def wait(self, *about, now=None):
        """Seconds until the next try may go ahead; counts nothing."""
        key = self._key(about)
        return self._left(key, self._tries(key), time.time() if now is None else now)

    def forget(self, *about):
        """The right answer was given: begin anew."""
        key = self._key(about)
        cache.delete_many([key, *(f"{key}:{number}" for number in range(1, self._tries(key) + 1))])

    def _tries(self, key):
        return cache.get(key) or 0

    def _left(self, key, number, now):
        last = cache.get(f"{key}:{number}") if number >= self.free else None
        if last is None:
            return 0
        wait = min(self.first_wait_s * 2 ** min(number - self.free, 30), self.longest_wait_s)
        return min(max(last + wait - now, 0), wait)  # a clock that was put back makes no wait longer

    def _key(self, about):
        # What was typed is not kept, only what it comes to.
        words = "\0".join(str(word) for word in about)
        return f"throttle:{self.name}:{hashlib.sha256(words.encode('utf-8', 'replace')).hexdigest()[:40]}"


def network_of(request):
    """Where a request comes from; of IPv6 the network, since one machine has as many addresses as it likes there."""
    text = request.META.get("REMOTE_ADDR") or ""
    try:
        address = ipaddress.ip_address(text)
    except ValueError:
        return text
    if address.version == 6 and address.ipv4_mapped is None:
        return str(ipaddress.ip_network((address, 64), strict=False))
    return str(getattr(address, "ipv4_mapped", None) or address)


def said(seconds):
    """A wait in words."""
    if seconds < 90:
        whole = max(int(seconds + 0.999), 1)
        return f"{whole} second{'' if whole == 1 else 's'}"
    return f"{int(seconds / 60 + 0.999)} minutes"
