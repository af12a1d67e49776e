"""What is done to staff and to the workshop's details."""

from django.contrib.auth.password_validation import validate_password
from django.contrib.sessions.models import Session
from django.db import transaction

from shop.staff.models import Person
from shop.staff.roles import Role


class NotAllowed(Exception):
    """A change that would lock the workshop out of its own books. The message is a sentence for people."""


@transaction.atomic
def add_person(*, username, shown_name, role, password):
    """A new member of staff, who can sign in at once."""
    new = Person(username=username, shown_name=shown_name, role=role)
    validate_password(password, new)
    new.set_password(password)
    new.save()
    return new


@transaction.atomic
def change_person(person, *, shown_name, role, is_active, password=""):
    """Change name, role, password or whether somebody may sign in; a leaver's sessions end at once.

    Raises NotAllowed when nobody would be left who may do what the owner does.
    """
    # All owners are held, in one order: two who let each other go at once cannot both succeed.
    owners = list(Person.objects.select_for_update().filter(role=Role.OWNER, is_active=True).order_by("pk"))
    stays_owner = role == Role.OWNER and is_active
    if not stays_owner and not any(owner.pk != person.pk for owner in owners):
        raise NotAllowed("Somebody must stay owner: give another person that role first.")
    person.shown_name, person.role, person.is_active = shown_name, role, is_active
    changed = ["shown_name", "role", "is_active"]
    if password:
        validate_password(password, person)
        person.set_password(password)
        changed.append("password")
    person.save(update_fields=changed)
    if not is_active:
        end_sessions(person)
    return person


def end_sessions(person):
    """Sign `person` out everywhere."""
    for session in Session.objects.iterator():
        if session.get_decoded().get("_auth_user_id") == str(person.pk):
            session.delete()
