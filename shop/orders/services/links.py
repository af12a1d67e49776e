"""The customer's page: its private address, made, found again, and withdrawn."""

import secrets
from datetime import timedelta

from django.core.signing import BadSignature, Signer
from django.db import transaction
from django.utils import timezone

from shop.orders.models import CustomerLink
from shop.orders.services.common import locked, note

LASTS = timedelta(days=120)
STILL_GOOD = timedelta(days=45)  # a mail carries a link that lives at least so long
SIGNER = Signer(salt="customer's page", sep=".")


def token_of(link):
    """What stands in the address: the link's key under the shop's signature."""
    return SIGNER.sign(link.key)


def link_of(token):
    """The living CustomerLink that `token` names, or None: forged, unknown, withdrawn and expired look all the same."""
    try:
        key = SIGNER.unsign(token)
    except BadSignature:
        return None
    living = CustomerLink.objects.filter(key=key, withdrawn_at=None, expires_at__gt=timezone.now())
    return living.select_related("order__customer", "order__instrument").first()


def current_link(order):
    """The order's living link, or None."""
    return order.links.filter(withdrawn_at=None, expires_at__gt=timezone.now()).first()


@transaction.atomic
def link_for_mail(order, *, by):
    """A link that lives long enough to be mailed."""
    held = locked(order)
    known = current_link(held)
    if known and known.expires_at > timezone.now() + STILL_GOOD:
        return known
    return _new(held, by=by)


@transaction.atomic
def renew_link(order, *, by):
    """A new address; the old ones open nothing any more."""
    held = locked(order)
    _withdraw(held)
    note(held, by=by, what="link_renewed", text="The customer’s page has a new address; the old one is withdrawn.")
    return _new(held, by=by)


@transaction.atomic
def withdraw_link(order, *, by):
    """No address opens the customer's page any more, until one is made or mailed again."""
    held = locked(order)
    if _withdraw(held):
        note(held, by=by, what="link_withdrawn", text="The address of the customer’s page is withdrawn.")


def opened(link):
    """Remember that the customer looked."""
    CustomerLink.objects.filter(pk=link.pk).update(opened_at=timezone.now())


def _withdraw(order):
    return order.links.filter(withdrawn_at=None).update(withdrawn_at=timezone.now())


def _new(order, *, by):
    now = timezone.now()
    return CustomerLink.objects.create(
        order=order, key=secrets.token_urlsafe(32), made_at=now, made_by=by, expires_at=now + LASTS
    )
