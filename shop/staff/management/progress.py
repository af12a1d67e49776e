"""Shows how far a long command has come: one line that is written over, where somebody is looking."""

import time

EVERY_S = 0.2


class Progress:
    def __init__(self, out, verbosity):
        self.out = out
        self.is_watched = verbosity > 0 and out.isatty()
        self.shown_at = 0.0
        self.has_shown = False

    def __enter__(self):
        return self

    def __exit__(self, *exception):
        if self.has_shown:
            self.out.write("\r\033[K", ending="")

    def show(self, text):
        if self.is_watched and time.monotonic() - self.shown_at >= EVERY_S:
            self.out.write(f"\r\033[K{text}", ending="")
            self.out.flush()
            self.shown_at = time.monotonic()
            self.has_shown = True
