"""`manage.py backup FILE`: everything the workshop has, in one file, while it goes on working."""

from pathlib import Path

from django.core.management import BaseCommand, CommandError

from shop.lib.archive import BackupError
from shop.lib.backup import make_backup
from shop.staff.management.progress import Progress


class Command(BaseCommand):
    help = "Keeps the database, photographs, papers and local mail in one new file. The workshop may be running."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("file", metavar="FILE", type=Path, help="the file to make, such as workshop-2026-11-25.zip")

    def handle(self, *, file, verbosity, **options):
        try:
            with Progress(self.stdout, verbosity) as progress:
                made = make_backup(file, progress.show)
        except BackupError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"{made.path} holds {made.rows} rows and {made.files} files.")
        for name in made.missing:
            self.stderr.write(f"A record names {name}, but that file is not there.")
