"""Whether somebody has asked this process to end."""

import queue
import signal


class ToldToStop:
    """Listens from the moment it is made. A queue of this kind may be put to in the middle of a get, which a signal
    is; an event's lock would be waited for by the very code that holds it."""

    def __init__(self, *numbers):
        self.heard = queue.SimpleQueue()
        for number in numbers or (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, lambda *_: self.heard.put(True))

    def __call__(self):
        return not self.heard.empty()

    def within(self, seconds):
        """Wait for it, and return whether it came."""
        try:
            self.heard.put(self.heard.get(timeout=seconds))
        except queue.Empty:
            return False
        return True
