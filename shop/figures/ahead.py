"""Adds up beside the worker's mail, so that the owner's figures are there when they are asked for."""

import time

from shop.figures.kept import catch_up_everywhere
from shop.figures.tables import PERIODS, months_back

AT_ONCE_S = 1.0
EVERY_S = 600  # what changed in the meantime is a second's work for whoever asks


class KeepUp:
    """Called now and then. Works a second at a time until all is there, then rests for a while."""

    def __init__(self, clock=time.monotonic):
        self.clock = clock
        self.next_at = clock()

    def __call__(self):
        if self.clock() >= self.next_at and not catch_up_everywhere(months_back(max(PERIODS)), within_s=AT_ONCE_S):
            self.next_at = self.clock() + EVERY_S
