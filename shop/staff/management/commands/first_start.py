"""`manage.py first_start`: what a workshop needs so that somebody can sign in for the first time."""

import secrets

from django.core.management import BaseCommand, call_command
from django.db import transaction

from shop.staff.models import Person
from shop.staff.roles import Role
from shop.staff.setting_up import begin

OWNER = "owner"


class Command(BaseCommand):
    help = "Fills the demo workshop, or makes the owner's sign-in, where nobody can sign in yet."

    def add_arguments(self, parser):
        parser.add_argument("--demo", action="store_true", help="fill the demo workshop")

    def handle(self, *, demo, verbosity, **options):
        if demo:
            # It says the sign-ins also where an earlier start loaded it and was cut off before anybody was told.
            call_command("load_demo", or_say=True, stdout=self.stdout, verbosity=verbosity)
        elif not demo and nobody_has_signed_in():
            password = new_owner_password()
            self.stdout.write(f"Sign in as {OWNER} with the password {password} and change it there.")


def nobody_has_signed_in():
    """True as well where the owner was made but may never have been told the password: a start that was cut off."""
    return not Person.objects.exclude(username=OWNER, last_login=None).exists()


@transaction.atomic
def new_owner_password():
    """Make the owner, or the owner's password anew, and return it. Nothing keeps it in clear."""
    password = secrets.token_urlsafe(12)
    owner, _ = Person.objects.get_or_create(username=OWNER, defaults={"shown_name": "Owner", "role": Role.OWNER})
    owner.set_password(password)
    owner.save(update_fields=["password"])
    begin()
    return password
