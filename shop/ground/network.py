"""The address to listen at, and the ones to reach it by. Nothing here sends anything."""

import contextlib
import errno
import fcntl
import ipaddress
import socket
import struct

from shop.ground.words import Trouble

GET_ADDRESS = 0x8915  # ioctl(2) on Linux: SIOCGIFADDR


def bind(host, port):
    """A bound socket that does not listen yet: the port is ours while the rest is set up."""
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    except (OSError, UnicodeError) as error:
        raise Trouble(f"There is no address {host} on this machine: give --host one of its own.") from error
    family, kind, _, _, address = found[0]
    listener = socket.socket(family, kind)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind(address)
    except OSError as error:
        listener.close()
        raise Trouble(why_not_bound(error, host, port)) from error
    return listener


def listen(listener):
    host, port = listener.getsockname()[:2]
    try:
        listener.listen(1024)
    except OSError as error:
        raise Trouble(why_not_bound(error, host, port)) from error


def why_not_bound(error, host, port):
    if error.errno == errno.EADDRINUSE:
        return f"Port {port} is taken by another program: stop that one, or choose another port with --port."
    if error.errno in (errno.EACCES, errno.EPERM):
        return f"Port {port} is reserved for root: choose one above 1023 with --port."
    return f"There is no address {host} on this machine: give --host one of its own."


def is_everywhere(host):
    return host in ("", "0.0.0.0", "::")


def reachable_at(host):
    """The names and addresses by which a browser can come in when we listen at `host`."""
    if not is_everywhere(host):
        return [host]
    return [*own_addresses(), socket.gethostname(), f"{socket.gethostname()}.local"]


def own_addresses():
    """This machine's IPv4 addresses, other than its own loop."""
    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        for _, name in socket.if_nameindex():
            with contextlib.suppress(OSError):
                answer = fcntl.ioctl(probe, GET_ADDRESS, struct.pack("256s", name.encode()[:15]))
                found.append(socket.inet_ntoa(answer[20:24]))
    return [address for address in found if not ipaddress.ip_address(address).is_loopback]


def url(host, port):
    """The address as one types it into a browser."""
    shown = f"[{host}]" if ":" in host else host
    return f"http://{shown}" + ("" if port == 80 else f":{port}")
