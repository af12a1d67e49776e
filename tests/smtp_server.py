"""A real SMTP server on this machine, in any mood: it takes mail, refuses, greylists, stalls or hangs up."""

import asyncio
import socket
from email import message_from_bytes, policy

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, syntax

STALLED = 30  # seconds, longer than anybody waits


class Server(SMTP):
    """One that can also hang up before it has all of a mail."""

    @syntax("DATA")
    async def smtp_DATA(self, arg):
        if self.event_handler.mood != "cuts":
            return await super().smtp_DATA(arg)
        await self.push("354 go on")
        await self._reader.read(100)
        return self.transport.abort()


class Line(Controller):
    def factory(self):
        return Server(self.handler, **self.SMTP_kwargs)


class Mailbox:
    """What the server does next is in `mood`; what it took is in `taken`, parsed, in order.

    'takes'; 'unknown' (550 to the recipient); 'greylists' (451 to the recipient, `times` times, then it takes);
    'rejects' (554 after the data); 'full' (452 after the data); 'hangs up' (takes the data, then drops the line
    without an answer, `times` times); 'drops' (drops the line at the recipient); 'cuts' (drops it in the middle of the
    data); 'stalls' (takes the data and says nothing for a long time); 'sleeps' (says nothing to the sender's name).
    """

    def __init__(self):
        self.mood, self.times, self.taken, self.envelopes = "takes", 0, [], []

    async def handle_MAIL(self, server, session, envelope, address, options):
        if self.mood == "sleeps":
            await asyncio.sleep(STALLED)
        envelope.mail_from = address
        return "250 OK"

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
            await asyncio.sleep(STALLED)
        return "250 OK"

    def _still(self):
        self.times -= 1
        return self.times >= 0

    def start(self):
        """Open the line, on the same port as before when it was open already."""
        self.port = getattr(self, "port", None) or free_port()
        self.controller = Line(self, hostname="127.0.0.1", port=self.port)
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
