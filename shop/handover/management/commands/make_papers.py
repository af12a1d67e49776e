"""`manage.py make_papers 2026-11`: make the papers of a month that are not made yet."""

import re
import signal

from django.core.management.base import BaseCommand, CommandError

from shop.billing.journal import Month
from shop.handover import month as papers_of_month
from shop.staff.models import Workshop
from shop.staff.zone import in_workshop

ASKED = re.compile(r"([0-9]{4})-([0-9]{2})")


class Command(BaseCommand):
    help = "Makes the papers of a month that are not made yet. Ctrl-C stops it after the paper in hand; again goes on."

    def add_arguments(self, parser):
        parser.add_argument("month", help="such as 2026-11")

    def handle(self, *, month, **options):
        asked = self._asked(month)
        stop = []
        before = signal.signal(signal.SIGINT, lambda *_: stop.append(True))
        try:
            with in_workshop(Workshop.here()):  # its zone and its way of writing amounts, as on a page
                made = papers_of_month.make_missing(asked, stopping=lambda: bool(stop), say=self._say)
        finally:
            signal.signal(signal.SIGINT, before)
        self.stdout.write(f"\n{made} papers made{', stopped' if stop else ''}.")

    def _asked(self, text):
        found = ASKED.fullmatch(text)
        asked = Month(int(found[1]), int(found[2])) if found else None
        if asked is None or not asked.is_known:
            raise CommandError("Write the month as 2026-11.")
        return asked

    def _say(self, made, of):
        self.stdout.write(f"\r{made} of {of}", ending="")
        self.stdout.flush()
