"""`manage.py load_demo`: fills an empty workshop with invented work."""

from django.conf import settings
from django.core.management import BaseCommand, CommandError

from shop.figures.demo.load import NotEmpty, load, sign_ins_on_file
from shop.staff.models import Person


class Command(BaseCommand):
    help = "Fills an empty workshop with invented customers, instruments and orders of two years."

    def add_arguments(self, parser):
        parser.add_argument("--orders", type=int, default=40, help="how many orders (16 to 5000)")
        parser.add_argument("--seed", type=int, default=1, help="another seed draws another workshop")
        parser.add_argument(
            "--or-say", action="store_true", help="where it is loaded already, only say who can sign in to it"
        )

    def handle(self, *, orders, seed, or_say, verbosity, **options):
        if not 16 <= orders <= 5000:
            raise CommandError("--orders lies between 16 and 5000.")
        sign_ins = sign_ins_on_file() if or_say and Person.objects.exists() else self._load(orders, seed, verbosity)
        for name, password, role in sign_ins:
            self.stdout.write(f"Sign in as {name} with the password “{password}” ({role}).")

    def _load(self, orders, seed, verbosity):
        if not settings.MAIL_IS_LOCAL:
            raise CommandError("A mail server is set, and the demo must mail nobody. Unset WORKSHOP_SMTP_HOST first.")
        try:
            return load(orders=orders, seed=seed, say=self.stdout.write if verbosity > 1 else lambda _: None)
        except NotEmpty as refused:
            raise CommandError(str(refused)) from None
