"""Stands between signing in and every page: a device left alone is locked, and owners prove more than a password.

Locking ends nothing: the session stays, with all that the page keeps unsent on the device, until a PIN or the password
opens it again.
"""

import re
from datetime import timedelta
from urllib.parse import urlencode

from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone

from shop.staff import audit
from shop.staff.roles import Role
from shop.staff.sessions import when

OPEN_WHEN_LOCKED = {"re-enter", "sign-out"}
OPEN_WITHOUT_CODE = {"second-factor", "sign-out", "password", "re-enter"}
SAVED_EVERY = timedelta(minutes=5)
BY_SCRIPT = "application/json"


class EntryMiddleware:
    """After AuthenticationMiddleware."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        with audit.at_work(request):
            return self.get_response(request)

    def process_view(self, request, view, _args, _kwargs):
        if not getattr(view, "login_required", True) or not request.user.is_authenticated:
            return None
        name = request.resolver_match.url_name
        if is_locked(request) and name not in OPEN_WHEN_LOCKED:
            return redirect(to_open(request))
        touch(request)
        if lacks_code(request) and name not in OPEN_WITHOUT_CODE:
            return redirect("second-factor")
        return None


def is_locked(request):
    """Whether the device was left alone too long, or locked by hand."""
    if request.session.get("locked"):
        return True
    limit, seen = request.workshop.lock_after_minutes, when(request.session.get("seen"))
    # A clock that was put back far enough locks, too: by it nobody could say how long the device was alone.
    if not limit or seen is None or abs(timezone.now() - seen) <= timedelta(minutes=limit):
        return False
    lock(request)
    return True


def lock(request):
    request.session["locked"] = True


def unlock(request):
    request.session.cycle_key()
    request.session.pop("locked", None)
    request.session["seen"] = timezone.now().isoformat()


def touch(request):
    """Note that somebody is here. A page that only asks what is new does so by itself, and counts for nobody."""
    session, now = request.session, timezone.now()
    if request.method == "GET" and request.headers.get("Accept", "").startswith(BY_SCRIPT):
        return
    seen = when(session.get("seen"))
    often = min(SAVED_EVERY, timedelta(minutes=request.workshop.lock_after_minutes or 60) / 4)
    if seen is None:
        session["began"] = now.isoformat()
        session["address"] = audit.network_of(request)[:45]
        session["device"] = device_of(request.headers.get("User-Agent", ""))
    if seen is None or not timedelta(0) <= now - seen < often:
        session["seen"] = now.isoformat()


def lacks_code(request):
    """Whether this owner has to set up the second factor before anything else."""
    owner = request.user.role == Role.OWNER and request.workshop.owners_use_codes
    return owner and not request.session.get("second")


def device_of(agent):
    """What kind of thing it is, as far as it says."""
    if re.search(r"\bMobile\b", agent):
        return "telephone or small tablet"
    if re.search(r"\bAndroid\b|\bTablet\b", agent):
        return "tablet"
    return "computer" if agent else "unknown device"


def to_open(request):
    """The address where the device is opened again, and goes on from there."""
    return f"{reverse('re-enter')}?{urlencode({'next': back_to(request)})}"


def back_to(request):
    """Where to go on afterwards: the page itself, or for an action the page it was done on."""
    if request.method in ("GET", "HEAD"):
        return request.get_full_path()
    referrer = request.headers.get("Referer", "")
    start = f"{request.scheme}://{request.get_host()}/"
    return "/" + referrer.removeprefix(start) if referrer.startswith(start) else "/"
