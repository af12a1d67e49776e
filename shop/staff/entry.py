"""How often somebody may try to come in, and what opens a device that was left alone."""

from datetime import timedelta

from django.utils import timezone

from shop.lib.throttle import Throttle, network_of
from shop.staff import known_device
from shop.staff.models import Person
from shop.staff.sessions import when

# Guessing at one account from one place soon waits minutes; the same account from elsewhere does not, nor from a device
# on which it has signed in before.
ACCOUNT = Throttle("sign-in", free=5, first_wait_s=2, longest_wait_s=600)
# One place guessing at many accounts. A whole workshop may stand behind one address: it is slowed, never kept out.
PLACE = Throttle("sign-in-from", free=60, first_wait_s=1, longest_wait_s=30, forget_after_s=1800)
LETTERS = Throttle("forgotten", free=5, first_wait_s=30, longest_wait_s=600)
OWN_PASSWORD = Throttle("own-password", free=5, first_wait_s=2, longest_wait_s=300)
# A locked device is opened by few figures: after ten wrong ones the sign-in ends, and name and password are asked.
RE_ENTRY = Throttle("re-enter", free=10, first_wait_s=86400, longest_wait_s=86400, forget_after_s=2 * 86400)
PIN_GOOD_FOR = timedelta(hours=16)  # since the password was last typed: a working day


def try_to_enter(request, username):
    """Count a try to sign in; 0, or the seconds that have to pass first."""
    account, place = _plain(username), network_of(request)
    if device := known_device.of(request, account):
        return ACCOUNT.take(account, device)
    return PLACE.take(place) or ACCOUNT.take(account, place)


def entered(request, answer, username):
    """They came in: their own slips before it are forgotten, and the device that gets `answer` is known from now on."""
    account = _plain(username)
    ACCOUNT.forget(account, known_device.of(request, account) or network_of(request))
    known_device.remember(request, answer, account)
    return answer


def try_to_ask(request):
    """Count a request for a letter; 0, or the seconds that have to pass first."""
    return LETTERS.take(network_of(request))


def try_own_password(request):
    """Count a try of the signed-in person's own password; 0, or the seconds that have to pass first."""
    return OWN_PASSWORD.take(request.user.pk, request.session.session_key)


def whose(username):
    """Who was meant, for the record. What fits nobody is not written down: it may be a password in the wrong field."""
    person = Person.objects.filter(username__iexact=username.strip()[:150]).first()
    return f"the name {person.username}" if person else "a name that nobody has"


def too_many(request):
    """Count a try to open this device; True once there were too many."""
    return RE_ENTRY.take(request.session.session_key) > 0


def takes_pin(request):
    """Whether the person has a PIN and typed the password not too long ago."""
    typed = when(request.session.get("password_at") or request.session.get("began"))
    return bool(request.user.pin) and typed is not None and abs(timezone.now() - typed) <= PIN_GOOD_FOR


def opens(request, word):
    """Whether `word` is the person's PIN or password."""
    if takes_pin(request) and request.user.has_pin(word):
        return True
    if not request.user.check_password(word):
        return False
    request.session["password_at"] = timezone.now().isoformat()
    return True


def _plain(username):
    return " ".join(username.split()).casefold()[:150]
