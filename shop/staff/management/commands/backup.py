"""`manage.py backup FILE`: everything the workshop has, in one file, while it goes on working."""

from pathlib import Path

from django.core.management import BaseCommand, CommandError

from shop.lib import backups
from shop.lib.archive import BackupError
from shop.lib.backup import make_backup
from shop.staff.management.progress import Progress


class Command(BaseCommand):
    help = "Keeps the database, photographs, papers and local mail in one new file. The workshop may be running."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument(
            "file", metavar="FILE", type=Path, nargs="?", help="the file to make, such as workshop-2026-11-25.zip"
        )
        parser.add_argument(
            "--due", action="store_true",
            help="make one in the folder of backups if the newest there is too old, and let old ones go",
        )  # fmt: skip

    def handle(self, *, file, due, verbosity, **options):
        if (file is None) != due:
            raise CommandError("Name the file to make, or say --due.")
        try:
            with Progress(self.stdout, verbosity) as progress:
                made = backups.make_due(progress.show) if due else make_backup(file, progress.show)
        except BackupError as error:
            raise CommandError(str(error)) from error
        if made is None:
            self.stdout.write("The last backup is new enough.")
            return
        self.stdout.write(f"{made.path} holds {made.rows} rows and {made.files} files.")
        for name in made.missing:
            self.stderr.write(f"A record names {name}, but that file is not there.")
