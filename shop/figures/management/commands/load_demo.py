"""`manage.py load_demo`: fills an empty workshop with invented work."""

from django.conf import settings
from django.core.management import BaseCommand, CommandError

from shop.figures.demo.load import NotEmpty, load


class Command(BaseCommand):
    help = "Fills an empty workshop with invented customers, instruments and orders of two years."

    def add_arguments(self, parser):
        parser.add_argument("--orders", type=int, default=40, help="how many orders (16 to 5000)")
        parser.add_argument("--seed", type=int, default=1, help="another seed draws another workshop")

    def handle(self, *, orders, seed, verbosity, **options):
        if not 16 <= orders <= 5000:
            raise CommandError("--orders lies between 16 and 5000.")
        if not settings.MAIL_IS_LOCAL:
            raise CommandError("A mail server is set, and the demo must mail nobody. Unset WORKSHOP_SMTP_HOST first.")
        try:
            sign_ins = load(orders=orders, seed=seed, say=self.stdout.write if verbosity > 1 else lambda _: None)
        except NotEmpty as refused:
            raise CommandError(str(refused)) from None
        for name, password, role in sign_ins:
            self.stdout.write(f"Sign in as {name} with the password “{password}” ({role}).")
