"""Send the mails that wait; with --loop, go on until told to stop, and back up by the day. Several may run at once."""

from django.core.management.base import BaseCommand
from django.db import OperationalError, close_old_connections, connection

from shop.ground.told import ToldToStop
from shop.handover import collecting, hooks, outbox
from shop.lib.backup_clock import BackupClock
from shop.staff import letters
from shop.staff.models import Workshop
from shop.staff.zone import in_workshop


class Command(BaseCommand):
    help = "Sends the mails that wait. SIGTERM and Ctrl-C stop it after the mail in hand."

    def add_arguments(self, parser):
        parser.add_argument("--loop", action="store_true", help="go on until told to stop")
        parser.add_argument("--interval", type=float, default=5.0, help="seconds between two looks at the queue")

    def handle(self, *args, loop, interval, **options):
        stop = ToldToStop()
        tried = self._round(stop, loop=loop)
        backups = BackupClock() if loop else None
        while loop and not stop.within(interval):
            tried += self._round(stop, loop=loop)
            backups.look_after()
        if backups:
            backups.stop()
        if options["verbosity"]:
            self.stdout.write(f"{tried} mail{'' if tried == 1 else 's'} tried.")

    def _round(self, stop, *, loop):
        close_old_connections()
        try:
            with in_workshop(Workshop.here()):
                collecting.remind_due()
                tried = letters.send_waiting() + outbox.deliver(stopping=stop)
                for work in hooks.beside_the_mail if loop else ():
                    work()
                return tried
        except OperationalError as error:  # a busy or restarted database is tried again at the next look
            self.stderr.write(f"The queue could not be read: {error}")
            connection.close()  # one that was opened while nothing could be written would stay like that
            return 0
