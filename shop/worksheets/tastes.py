"""How a player likes it: ranges that stand before those of the shop's profile on every new worksheet."""

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from shop.people.models import Customer
from shop.worksheets import profiles
from shop.worksheets.models import Taste

CUSTOMER, INSTRUMENT = "customer", "instrument"


def of_instrument(instrument):
    """The ranges kept of this instrument, {key: [low, high]}."""
    return _ranges(Taste.objects.filter(instrument=instrument))


def of_customer(customer, kind):
    """The ranges kept of a customer for every instrument of one kind."""
    return _ranges(Taste.objects.filter(customer=customer, kind=kind))


def of_both(instrument):
    """(ranges of this instrument, ranges of its customer for every one of its kind). One query."""
    both = Q(instrument=instrument) | Q(customer=instrument.customer_id, kind=instrument.kind)
    found = {bool(own): ranges for own, ranges in Taste.objects.filter(both).values_list("instrument", "ranges")}
    return found.get(True, {}), found.get(False, {})


def _ranges(found):
    return dict(found.values_list("ranges", flat=True).first() or {})


def all_of_customer(customer):
    """{kind: ranges} of every kind for which anything is kept. One query."""
    return dict(Taste.objects.filter(customer=customer).values_list("kind", "ranges"))


def snapshot(instrument, profile):
    """(targets, taste) of a new worksheet: the profile's ranges, the customer's before them, the instrument's first."""
    return snapshots([instrument], [profiles.targets_of(profile)])[0]


def snapshots(instruments, targets):
    """(targets, taste) of many, as `snapshot`: `targets` are those of each one's profile. One query."""
    owners = {one.customer_id for one in instruments}
    kept = Taste.objects.filter(Q(instrument__in=instruments) | Q(customer__in=owners))
    by_instrument, by_owner = {}, {}
    for one in kept:
        if one.instrument_id:
            by_instrument[one.instrument_id] = one.ranges
        else:
            by_owner[one.customer_id, one.kind] = one.ranges
    return [
        _joined(one, base, by_owner.get((one.customer_id, one.kind), {}), by_instrument.get(one.pk, {}))
        for one, base in zip(instruments, targets, strict=True)
    ]


def _joined(instrument, base, owners, own):
    keys = dict.fromkeys(owners, CUSTOMER) | dict.fromkeys(own, INSTRUMENT)
    return base | owners | own, {"words": instrument.taste or instrument.customer.taste, "keys": keys}


def join(gone, kept):
    """Give `kept` what is kept of `gone`, both customers or both instruments, where both have ranges of one kind.

    What `kept` says itself stands. Returns ({key of a Taste: its ranges before}, {the same: after}).
    """
    name = "customer" if isinstance(kept, Customer) else "instrument"
    theirs = {_slot(one): one for one in Taste.objects.filter(**{name: gone})}
    before, after = {}, {}
    for one in Taste.objects.filter(**{name: kept}):
        joined = (theirs[_slot(one)].ranges if _slot(one) in theirs else {}) | one.ranges
        if joined != one.ranges:
            before[str(one.pk)], after[str(one.pk)] = one.ranges, joined
            Taste.objects.filter(pk=one.pk).update(ranges=joined)
    return before, after


def part(before, after):
    """Undo what `join` answered with; ranges that somebody changed since stay."""
    for key, ranges in before.items():
        for one in Taste.objects.filter(pk=key):
            if one.ranges == after.get(key):
                Taste.objects.filter(pk=one.pk).update(ranges=ranges)


def _slot(taste):
    return taste.kind if taste.customer_id else ""


@transaction.atomic
def save(ranges, *, by, kind, instrument=None, customer=None):
    """Keep `ranges` of the instrument, or of the customer for `kind`; none at all clears them."""
    of = {"instrument": instrument} if instrument is not None else {"customer": customer, "kind": kind}
    if not ranges:
        Taste.objects.filter(**of).delete()
        return None
    made, _ = Taste.objects.update_or_create(
        **of, defaults={"kind": kind, "ranges": ranges, "at": timezone.now(), "by": by}
    )
    return made
