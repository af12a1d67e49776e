"""What the owner does to target profiles. Worksheets keep their own copy, so nothing here rewrites the past."""

from django.db import transaction

from shop.staff import audit
from shop.worksheets.models import TargetProfile, TargetRange
from shop.worksheets.services.errors import Refused

NAME_LENGTH = 80


@transaction.atomic
def save(profile, range_forms):
    """Keep the profile's name and kind, and every range that was changed; a range with two open ends goes."""
    if TargetProfile.objects.filter(kind=profile.kind, is_usual=True).exclude(pk=profile.pk).exists():
        profile.is_usual = False
    profile.save(update_fields=["name", "kind", "is_usual"])
    for form in range_forms:
        changed = {end: form.cleaned_data[end] for end in form.changed_data}
        if not changed:
            continue
        TargetRange.objects.update_or_create(profile=profile, key=form.key, defaults=changed)
    profile.ranges.filter(low=None, high=None).delete()
    return profile


@transaction.atomic
def copy(profile):
    """A new profile with the same ranges and a name of its own."""
    made = TargetProfile.objects.create(name=_free_name(profile.name), kind=profile.kind)
    TargetRange.objects.bulk_create(
        TargetRange(profile=made, key=one.key, low=one.low, high=one.high) for one in profile.ranges.all()
    )
    return made


def _free_name(name):
    taken = set(TargetProfile.objects.values_list("name", flat=True))
    for count in range(1, len(taken) + 2):
        tried = f"{name[: NAME_LENGTH - 12]}, copy" + (f" {count}" if count > 1 else "")
        if tried not in taken:
            return tried
    raise AssertionError("one of n + 1 names is free among n")


@transaction.atomic
def make_usual(profile):
    """This one is used for its kind unless another is chosen."""
    TargetProfile.objects.filter(kind=profile.kind, is_usual=True).update(is_usual=False)
    profile.is_usual = True
    profile.save(update_fields=["is_usual"])
    return profile


@transaction.atomic
def delete(profile):
    if profile.is_usual:
        raise Refused("The usual profile of a kind stays: make another one usual first.")
    name = profile.name
    profile.delete()
    audit.write(audit.AuditKind.DELETION, f"The target profile “{name}” deleted.")
