"""`manage.py copy_over`: from the laptop's SQLite file to the database server that DATABASE_URL names."""

from pathlib import Path

from django.conf import settings
from django.core.management import BaseCommand, CommandError

from shop.lib.archive import DATABASE, BackupError
from shop.lib.copy_over import copy_over
from shop.staff.management.progress import Progress


class Command(BaseCommand):
    help = "Copies every row of a SQLite file to the empty database of DATABASE_URL, and compares both sides."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument(
            "file", metavar="FILE", type=Path, nargs="?", help=f"{DATABASE} of the data folder unless another is named"
        )

    def handle(self, *, file, verbosity, **options):
        path = file or settings.DATA_DIR / DATABASE
        try:
            with Progress(self.stdout, verbosity) as progress:
                arrived = copy_over(path, progress.show)
        except BackupError as error:
            raise CommandError(str(error)) from error
        for table in arrived:
            self.stdout.write(f"{table.rows:>10}  {table.sha256[:16]}  {table.name}")
        rows = sum(table.rows for table in arrived)
        self.stdout.write(f"{rows} rows in {len(arrived)} tables are the same on both sides. {path} is as it was.")
