"""The log: one JSON object a line, each with the reference of the request it belongs to, and nothing about people.

A reference is also what an error page shows, so that "it said 7F3K-9QPA" finds the line. Addresses are logged by the
name of their view; of an error its kind, its place in our code and its words without what people typed.
"""

import json
import logging
import re
import secrets
import time
import traceback
from contextvars import ContextVar
from datetime import UTC, datetime

from django.conf import settings
from django.db import connection
from django.http import HttpResponseServerError
from django.template.loader import render_to_string

LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
PRIVATE = re.compile(
    r"[\w.+-]+@[\w.-]+"  # e-mail addresses
    r"|\+?\d[\d\s()/-]{5,}\d"  # telephone and other long numbers
    r"|'[^'\n]*'|\"[^\"\n]*\"|“[^”]*”|‘[^’]*’|`[^`]*`"  # whatever an error quotes
    r"|(?<=[?&])[^\s=&]+=[^\s&]*",  # what was asked of an address
)
LONGEST = 2000
FRAMES = 12
_reference = ContextVar("reference", default="")
log = logging.getLogger("shop.requests")


def new_reference():
    letters = "".join(secrets.choice(LETTERS) for _ in range(8))
    return f"{letters[:4]}-{letters[4:]}"


def without_people(text):
    """`text` without e-mail addresses, long numbers and quotations."""
    return PRIVATE.sub("…", text)[:LONGEST]


class Lines(logging.Formatter):
    """A record as one line of JSON."""

    def format(self, record):
        line = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname,
            "from": record.name,
            "said": self._said(record),
        }
        if reference := _reference.get():
            line["reference"] = reference
        line |= getattr(record, "facts", {})
        if record.exc_info and record.exc_info[1]:
            line |= self._error(record.exc_info[1])
        return json.dumps(line, ensure_ascii=False)

    def _said(self, record):
        # Django adds the whole path of a request; our own line has the name of its view instead.
        if record.name.startswith("django.request") and isinstance(record.args, tuple) and record.args:
            return without_people(str(record.args[0]))
        return without_people(record.getMessage())

    def _error(self, error):
        frames = traceback.extract_tb(error.__traceback__)[-FRAMES:]
        root = f"{settings.BASE_DIR}/"
        return {
            "error": type(error).__name__,
            "because": without_people(str(error)),
            "at_line": [f"{one.filename.removeprefix(root)}:{one.lineno} {one.name}" for one in frames],
        }


class RequestLog:
    """The outermost middleware: gives the request its reference, and notes what failed or took long."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        request.reference = new_reference()
        token, began = _reference.set(request.reference), time.perf_counter()
        try:
            answer = self.get_response(request)
            self._note(request, answer, (time.perf_counter() - began) * 1000)
            answer["X-Reference"] = request.reference
            return answer
        finally:
            _reference.reset(token)

    def _note(self, request, answer, took_ms):
        match = request.resolver_match
        facts = {
            "view": match.url_name if match else None, "method": request.method, "status": answer.status_code,
            "ms": round(took_ms), "person": getattr(getattr(request, "user", None), "pk", None),
        }  # fmt: skip
        if answer.status_code >= 500:
            log.error("failed", extra={"facts": facts})
        elif took_ms >= settings.SLOW_REQUEST_MS:
            log.warning("slow", extra={"facts": facts})


def failed(request):
    """The page of an error of ours, with the reference that finds it in the log. Needs no database.

    The next request opens its connection anew: one that was opened while nothing could be written would stay like that.
    """
    if not connection.in_atomic_block:
        connection.close()
    shown = {"reference": getattr(request, "reference", "")}
    return HttpResponseServerError(render_to_string("500.html", shown))
