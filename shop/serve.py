"""The web server. Started by `python3 -m shop` with a socket that is bound already."""

import argparse
import gc
import logging
import os
import signal
import socket
import sys
import threading

from django.conf import settings
from django.urls import get_resolver
from waitress import create_server

from shop.lib.pdf import PdfUnavailable
from shop.lib.stationery import warm_up_for
from shop.wsgi import application

LARGEST_UPLOAD = 100 * 1024 * 1024  # a few photographs from a tablet in one form
WARM_UP_AFTER_S = 1.0


def options():
    """How waitress is to behave. What a proxy says of the client counts only where one is known to stand before us."""
    chosen = {
        "threads": 4,
        "ident": None,
        "max_request_body_size": LARGEST_UPLOAD,
        "channel_timeout": 60,
        "clear_untrusted_proxy_headers": True,
    }
    if settings.BEHIND_HTTPS:
        chosen |= {
            "trusted_proxy": settings.PROXY,
            "trusted_proxy_count": 1,
            "trusted_proxy_headers": {"x-forwarded-for", "x-forwarded-proto"},
        }
    return chosen


def warm_up():
    """Read fonts and style sheets, so that the first paper takes no longer than the next."""
    try:
        warm_up_for("A4")
    except PdfUnavailable as error:
        logging.getLogger("shop.serve").warning("%s", error)
    settle()


def settle():
    """Set apart what is loaded by now and stays. Otherwise Python looks through all of it for rubbish with every few
    pages, which took a sixth of their time."""
    _ = get_resolver().url_patterns
    gc.collect()
    gc.freeze()


def serve(listener, ready):
    """Answer requests until told to stop; those being answered are finished first."""
    server = create_server(application, sockets=[listener], **options())
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    os.write(ready, b"1")
    os.close(ready)
    # After the first page rather than before it: a start must not wait for a paper that nobody has asked for yet.
    warming = threading.Timer(WARM_UP_AFTER_S, warm_up)
    warming.daemon = True
    warming.start()
    server.run()
    server.close()


def main():
    parser = argparse.ArgumentParser(prog="python -m shop.serve", description=__doc__)
    parser.add_argument("--socket", type=int, required=True, help="number of a bound, inherited socket")
    parser.add_argument("--ready", type=int, required=True, help="number of an inherited pipe to write to when ready")
    asked = parser.parse_args()
    serve(socket.socket(fileno=asked.socket), asked.ready)


if __name__ == "__main__":
    main()
