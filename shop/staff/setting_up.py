"""The first set-up: a few short steps that may be left, taken up again, or ended at any time."""

import uuid

from django.contrib.auth.password_validation import validate_password
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction

from shop.lib.images import reencoded
from shop.staff.models import Workshop

# (step, title, why it is asked). The names of fields are those of the workshop.
STEPS = {
    "you": ("You", "How papers and the history name you, and a password of your own instead of the printed one."),
    "shop": ("The workshop", "As it stands on every paper and at the foot of every mail."),
    "money": ("Money and tax", "What an invoice has to name is for local law to say; a licensed adviser knows."),
    "work": ("Units and the bench", "Readings are kept as they were typed; this is how they are shown."),
}
FIELDS = {
    "shop": ("name", "website", "phone", "email", "address", "opening_hours", "country"),
    "money": ("currency", "number_format", "tax_name", "tax_rate", "prices_include_tax", "tax_number", "iban", "bic"),
    "work": ("length_unit", "paper", "time_zone", "reference_pitch_hz", "bench_hours_a_day", "rack_slots"),
}
LATER = "set-up-later"  # in the session: not now
LARGEST_LOGO = 600


def begin():
    """The set-up is asked for from the next sign-in on."""
    here = Workshop.here()
    here.set_up_step = next(iter(STEPS))
    here.save(update_fields=["set_up_step"])


def is_asked_for(request):
    """Whether this person is to be led through the set-up now."""
    may = request.user.may("edit workshop")
    return bool(may and request.workshop.set_up_step and not request.session.get(LATER))


def step_after(step):
    names = list(STEPS)
    at = names.index(step) + 1
    return names[at] if at < len(names) else ""


@transaction.atomic
def reached(step):
    """`step` is done; the one after it is next. Going back and saving again does not take anything back."""
    here = Workshop.objects.select_for_update().get(pk=Workshop.here().pk)
    names = list(STEPS)
    if here.set_up_step and names.index(here.set_up_step) <= names.index(step):
        here.set_up_step = step_after(step)
        here.save(update_fields=["set_up_step"])
    return here.set_up_step


def end():
    """Whatever is missing stays as it is; the workshop's details can be changed in the office at any time."""
    Workshop.objects.update(set_up_step="")


@transaction.atomic
def name_owner(person, *, shown_name, password):
    """The owner's name and, when one is given, a password of their own."""
    person.shown_name = shown_name
    changed = ["shown_name"]
    if password:
        validate_password(password, person)
        person.set_password(password)
        changed.append("password")
    person.save(update_fields=changed)


def keep_logo(file):
    """The uploaded picture as the logo, looked at by content and re-encoded. Raises images.ImageRefused."""
    picture = reencoded(file, longest=LARGEST_LOGO)
    name = default_storage.save(f"logo/{uuid.uuid4()}.jpg", ContentFile(picture.full))
    _put(name)


def drop_logo():
    _put("")


def _put(name):
    with transaction.atomic():
        here = Workshop.objects.select_for_update().get(pk=Workshop.here().pk)
        before, here.logo = here.logo.name, name
        here.save(update_fields=["logo"])
    if before:
        default_storage.delete(before)
