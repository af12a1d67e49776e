"""`manage.py restore FILE`: brings a backup back into an empty data folder."""

from pathlib import Path

from django.conf import settings
from django.core.management import BaseCommand, CommandError

from shop.lib.archive import BackupError
from shop.lib.restore import restore
from shop.staff.management.progress import Progress


class Command(BaseCommand):
    help = "Brings a backup back into an empty data folder, after checking all of it."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("file", metavar="FILE", type=Path, help="a file that `backup` made")

    def handle(self, *, file, verbosity, **options):
        if not file.is_file():
            raise CommandError(f"There is no file {file}.")
        try:
            with Progress(self.stdout, verbosity) as progress:
                manifest = restore(file, progress.show)
        except BackupError as error:
            raise CommandError(str(error)) from error
        rows, files, made_at = sum(manifest["rows"].values()), len(manifest["entries"]) - 1, manifest["made_at"]
        self.stdout.write(f"{settings.DATA_DIR} holds {rows} rows and {files} files again, as of {made_at}.")
        self.stdout.write("Start it with: python3 -m shop")
