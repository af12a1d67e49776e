"""How often somebody may try to come in."""

from shop.lib.throttle import Throttle, network_of

# Guessing at one account from one place soon waits minutes; the same account from elsewhere does not.
ACCOUNT = Throttle("sign-in", free=5, first_wait_s=2, longest_wait_s=600)
# One place guessing at many accounts. A whole workshop may stand behind one address: it is slowed, never kept out.
PLACE = Throttle("sign-in-from", free=60, first_wait_s=1, longest_wait_s=30, forget_after_s=1800)


def try_to_enter(request, username):
    """Count a try to sign in; 0, or the seconds that have to pass first."""
    place = network_of(request)
    return PLACE.take(place) or ACCOUNT.take(_plain(username), place)


def entered(request, username):
    """They came in: their own slips before it are forgotten."""
    ACCOUNT.forget(_plain(username), network_of(request))


def _plain(username):
    return " ".join(username.split()).casefold()[:150]
