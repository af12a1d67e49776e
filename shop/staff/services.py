"""What is done to staff and to the workshop's details."""

from django.contrib.auth.password_validation import validate_password
from django.db import transaction

from shop.staff import audit, codes
from shop.staff.models import Person
from shop.staff.roles import Role


class NotAllowed(Exception):
    """A change that would lock the workshop out of its own books. The message is a sentence for people."""


@transaction.atomic
def add_person(*, username, shown_name, role, password, email="", branches=()):
    """A new member of staff, who can sign in at once."""
    new = Person(username=username, shown_name=shown_name, role=role, email=email)
    validate_password(password, new)
    new.set_password(password)
    new.save()
    new.branches.set(branches)
    audit.write(audit.AuditKind.RIGHTS, f"{new} added as {new.get_role_display()}, signing in as {username}.")
    return new


@transaction.atomic
def change_person(person, *, shown_name, role, is_active, password="", email=None, branches=None):
    """Change name, role, password or whether somebody may sign in; a leaver's sessions end at once.

    Raises NotAllowed when nobody would be left who may do what the owner does.
    """
    # All owners are held, in one order: two who let each other go at once cannot both succeed.
    owners = list(Person.objects.select_for_update().filter(role=Role.OWNER, is_active=True).order_by("pk"))
    stays_owner = role == Role.OWNER and is_active
    if not stays_owner and not any(owner.pk != person.pk for owner in owners):
        raise NotAllowed("Somebody must stay owner: give another person that role first.")
    before = Person.objects.get(pk=person.pk)
    person.shown_name, person.role, person.is_active = shown_name, role, is_active
    person.email = before.email if email is None else email
    changed = ["shown_name", "role", "is_active", "email"]
    if password:
        validate_password(password, person)
        person.set_password(password)
        changed.append("password")
    if not is_active:
        person.pin, person.reset_asked_at = "", None
        changed += ["pin", "reset_asked_at"]
    person.save(update_fields=changed)
    if not is_active:
        end_sessions(person)
    if branches is not None:
        _work_in(person, branches)
    if said := _said(before, person, password):
        audit.write(audit.AuditKind.RIGHTS, f"{before}: {said}.")
    return person


def _work_in(person, branches):
    """Where they work from now on; branches that are closed stay as they were."""
    before, kept = set(person.branches.all()), set(person.branches.filter(is_active=False))
    now = set(branches) | kept
    if now != before:
        person.branches.set(now)
        audit.write(audit.AuditKind.RIGHTS, f"{person} works in {', '.join(sorted(map(str, now))) or 'no branch'}.")


def _said(before, now, password):
    """What changed, in words; a password is only said to be new."""
    changed = []
    if before.role != now.role:
        changed.append(f"role {before.get_role_display()} → {now.get_role_display()}")
    if before.is_active != now.is_active:
        changed.append("may sign in again" if now.is_active else "may no longer sign in")
    if before.shown_name != now.shown_name:
        changed.append(f"name → {now.shown_name}")
    if before.email != now.email:
        changed.append("another e-mail address")
    if password:
        changed.append("a new password set by the owner")
    return ", ".join(changed)


def end_sessions(person, *, but=None):
    """Sign `person` out everywhere, `but` on the device with this session key."""
    person.devices.exclude(session_key=but).delete()


@transaction.atomic
def set_pin(person, text):
    """A new PIN, or none."""
    person.pin = Person.hashed_pin(text)
    person.save(update_fields=["pin"])
    audit.write(audit.AuditKind.ENTRY, f"{person}: {'a new PIN' if text else 'no PIN any more'}.", by=person)


@transaction.atomic
def drop_codes(person):
    """The second factor is taken away; the password is enough."""
    codes.drop(person)
    audit.write(audit.AuditKind.RIGHTS, f"{person}: no second factor any more.")
