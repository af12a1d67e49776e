"""`manage.py upgrade`: brings the database up to this version, after a backup, whole or not at all."""

from django.core.management import BaseCommand, CommandError

from shop.lib.upgrade import UpgradeError, upgrade
from shop.staff.management.progress import Progress


class Command(BaseCommand):
    help = "Makes or updates the database's tables. An older workshop is backed up first; a failure changes nothing."
    requires_system_checks = []

    def handle(self, *, verbosity, **options):
        try:
            with Progress(self.stdout, verbosity) as progress:
                done = upgrade(progress.show)
        except UpgradeError as error:
            raise CommandError(str(error)) from error
        if done.backup:
            self.stdout.write(f"The workshop as it was is kept in {done.backup}.")
        self.stdout.write(f"{len(done.migrations)} changes were made to the database.")
