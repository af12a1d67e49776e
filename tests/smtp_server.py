"""A real SMTP server on this machine, in any mood: it takes mail, refuses, greylists, stalls or hangs up."""

import asyncio
import socket
from email import message_from_bytes, policy

from aiosmtpd.controller import Controller


class Mailbox:
    """What the server does next is in `mood`; what it took is in `taken`, parsed, in order.

    'takes'; 'unknown' (550 to the recipient); 'greylists' (451 to the recipient, `times` times, then it takes);
    'rejects' (554 after the data); 'full' (452 after the data); 'hangs up' (takes the data, then drops the line
    without an answer, `times` times); 'drops' (drops the line at the recipient); 'stalls' (takes the data and says
    nothing for a long time).
    """

    def __init__(self):
        self.mood, self.times, self.taken, self.envelopes = "takes", 0, [], []

    async def handle_RCPT(self, server, session, envelope, address, options):
        if self.mood == "unknown":
            return "550 5.1.1 no such user here"
        if self.mood == "greylists" and self._still():
            return "451 4.7.1 greylisted, come back later"
        if self.mood == "drops":
            server.transport.abort()
            return "421 gone"
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server, session, envelope):
        if self.mood == "rejects":
            return "554 5.6.0 this is not wanted here"
        if self.mood == "full":
            return "452 4.2.2 mailbox full"
        self.taken.append(message_from_bytes(envelope.content, policy=policy.default))
        self.envelopes.append((envelope.mail_from, list(envelope.rcpt_tos)))
        if self.mood == "hangs up" and self._still():
            server.transport.abort()
        if self.mood == "stalls":
            await asyncio.sleep(30)
        return "250 OK"

    def _still(self):
        self.times -= 1
        return self.times >= 0

    def start(self):
        """Open the line, on the same port as before when it was open already."""
        self.port = getattr(self, "port", None) or free_port()
        self.controller = Controller(self, hostname="127.0.0.1", port=self.port)
        self.controller.start()
        return self

    def stop(self):
        if self.controller:
            self.controller.stop()
            self.controller = None


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]
