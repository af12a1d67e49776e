"""The address to listen at."""

import socket

import pytest

from shop.ground import network
from shop.ground.words import Trouble


def test_a_taken_port_is_named():
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        with pytest.raises(Trouble, match=f"Port {port} is taken by another program"):
            network.bind("127.0.0.1", port)


def test_two_that_bind_before_either_listens_are_told_apart():
    first = network.bind("127.0.0.1", 0)
    second = network.bind("127.0.0.1", first.getsockname()[1])
    network.listen(first)
    with first, second, pytest.raises(Trouble, match="is taken"):
        network.listen(second)


@pytest.mark.parametrize("host", ["203.0.113.5", "a..b"])
def test_an_address_that_is_not_ours_is_named(host):
    with pytest.raises(Trouble, match="There is no address"):
        network.bind(host, 0)


def test_a_reserved_port_is_explained():
    assert "above 1023" in network.why_not_bound(PermissionError(13, "?"), "127.0.0.1", 80)


@pytest.mark.parametrize(
    ("host", "port", "url"),
    [
        ("127.0.0.1", 8000, "http://127.0.0.1:8000"),
        ("192.0.2.7", 80, "http://192.0.2.7"),
        ("::1", 8000, "http://[::1]:8000"),
    ],
)
def test_url(host, port, url):
    assert network.url(host, port) == url


def test_listening_everywhere_can_be_reached_by_this_machines_names():
    reachable = network.reachable_at("0.0.0.0")
    assert socket.gethostname() in reachable
    assert not [address for address in reachable if address.startswith("127.")]


def test_listening_at_one_address_is_reached_by_it():
    assert network.reachable_at("192.0.2.7") == ["192.0.2.7"]
