"""`manage.py no_codes NAME`: lets somebody sign in by password alone who lost telephone and recovery codes."""

from django.core.management import BaseCommand, CommandError

from shop.staff import services
from shop.staff.models import Person


class Command(BaseCommand):
    help = "Takes the second factor of somebody away who lost it. Whoever can run this can read the data anyway."

    def add_arguments(self, parser):
        parser.add_argument("name", help="the name they sign in with")

    def handle(self, *, name, **options):
        person = Person.objects.filter(username__iexact=name).first()
        if person is None:
            raise CommandError(f"Nobody signs in as {name}.")
        services.drop_codes(person)
        self.stdout.write(f"{person} signs in by password alone now.")
