"""Makes the backups that are due beside whatever else a worker does, each in a process of its own."""

import logging
import sys
import time

from django.conf import settings
from django.db import DatabaseError

from shop.ground import steps
from shop.lib import backups

LOG = logging.getLogger("shop.backups")
FIRST_AFTER_S = 600  # a shop that was just opened has better things to do
AGAIN_AFTER_S = 3600  # when one failed
LOOK_EVERY_S = 60


class BackupClock:
    """`look_after` is called now and then; it never waits."""

    def __init__(self, clock=time.monotonic, start=steps.start):
        self.clock = clock
        self.start = start
        self.child = None
        self.look_at = clock() + (LOOK_EVERY_S if backups.last_made_at() else FIRST_AFTER_S)

    def look_after(self):
        if self.child is not None:
            if self.child.poll() is None:
                return
            if self.child.returncode:
                LOG.error("The backup that was due could not be made; it is tried again in an hour.")
                self.look_at = self.clock() + AGAIN_AFTER_S
            self.child = None
        if self.clock() >= self.look_at:
            self.look_at = self.clock() + LOOK_EVERY_S
            if self._is_due():
                self.child = self.start([sys.executable, str(settings.BASE_DIR / "manage.py"), "backup", "--due"])

    def _is_due(self):
        try:
            return backups.is_due()
        except DatabaseError:  # the server is away: it is asked again at the next look
            return False

    def stop(self):
        """Stop the backup under way, if there is one; what it has begun is thrown away."""
        if self.child is not None:
            steps.stop(self.child)
