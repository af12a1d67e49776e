"""The second factor: six figures from a telephone (RFC 6238), and codes on paper for the day it is lost."""

import base64
import re
import secrets
from urllib.parse import quote, urlencode

import segno
from django.db import transaction
from django.utils.crypto import salted_hmac
from django_otp.plugins.otp_static.models import StaticDevice
from django_otp.plugins.otp_totp.models import TOTPDevice
from django_otp.util import random_hex

from shop.lib.throttle import Throttle

TRIES = Throttle("second-factor", free=5, first_wait_s=5, longest_wait_s=600)
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
HOW_MANY, LONG = 10, 10


def has_codes(person):
    """Whether signing in asks `person` for a code."""
    return TOTPDevice.objects.filter(user=person, confirmed=True).exists()


def new_key():
    return random_hex(20)


def telephone(person, key):
    """The telephone that is being set up, not kept yet; `key` in hexadecimal."""
    return TOTPDevice(user=person, key=key, name="telephone", confirmed=True)


def secret_of(device):
    """The secret as people type it, in groups of four."""
    text = base64.b32encode(device.bin_key).decode().rstrip("=")
    return " ".join(text[start : start + 4] for start in range(0, len(text), 4))


def picture_of(device, *, workshop):
    """A data: address of the picture that a telephone reads."""
    label = quote(f"{workshop.name}:{device.user.username}")
    asked = urlencode({"secret": secret_of(device).replace(" ", ""), "issuer": workshop.name}, quote_via=quote)
    made = segno.make(f"otpauth://totp/{label}?{asked}", error="m", micro=False)
    return made.svg_data_uri(border=2, xmldecl=False, svgns=True, omitsize=True)


@transaction.atomic
def confirm(person, key, text):
    """Take the telephone into use and return the recovery codes; None when the code was not right."""
    earlier = list(TOTPDevice.objects.filter(user=person).values_list("pk", flat=True))
    if not telephone(person, key).verify_token(_bare(text)):
        transaction.set_rollback(True)  # the library keeps count of wrong codes on the row itself
        return None
    TOTPDevice.objects.filter(pk__in=earlier).delete()
    return new_recovery_codes(person)


@transaction.atomic
def new_recovery_codes(person):
    """Ten codes, each good once; earlier ones are void. Only what they come to is kept, so this is the one time."""
    StaticDevice.objects.filter(user=person).delete()
    device = StaticDevice.objects.create(user=person, name="paper")
    codes = ["".join(secrets.choice(LETTERS) for _ in range(LONG)) for _ in range(HOW_MANY)]
    for code in codes:
        device.token_set.create(token=_kept(person, code))
    return [f"{code[:5]}-{code[5:]}" for code in codes]


def recovery_codes_left(person):
    return sum(device.token_set.count() for device in StaticDevice.objects.filter(user=person))


@transaction.atomic
def is_right(person, text):
    """Whether `text` is the code of the moment or an unused recovery code; either is good once only."""
    bare = _bare(text)
    if re.fullmatch(r"[0-9]{6}", bare):
        devices = TOTPDevice.objects.select_for_update().filter(user=person, confirmed=True)
        return any(device.verify_token(bare) for device in devices)
    devices = StaticDevice.objects.select_for_update().filter(user=person, confirmed=True)
    return any(device.verify_token(_kept(person, bare)) for device in devices)


@transaction.atomic
def drop(person):
    """From now on the password is enough."""
    TOTPDevice.objects.filter(user=person).delete()
    StaticDevice.objects.filter(user=person).delete()


def _bare(text):
    return re.sub(r"[\s-]", "", text).upper()[:40]


def _kept(person, code):
    return salted_hmac(f"recovery code of {person.pk}", code, algorithm="sha256").hexdigest()[:16]
