"""Whatever an address is asked to go back to, it stays on the host. Every form with such a field is in bad_input."""

import pytest

from tests import factories

pytestmark = pytest.mark.django_db
ELSEWHERE = [
    "https://example.com", "//example.com", "///example.com", "\\\\example.com", "/\\example.com", "http:example.com",
    "https:/example.com", "javascript:alert(1)", "\thttps://example.com", "/\t/example.com", "data:text/html,x",
    "https://testserver@example.com", "https://testserver.example.com",
]  # fmt: skip
HERE = "/orders/?page=2"


def device(client, next_):
    return client.post("/bench/device/", {"unit": "mm", "next": next_})


def opened_again(client, next_):
    client.post("/lock/")
    return client.post("/re-enter/", {"word": factories.PASSWORD, "next": next_})


def opened_by_address(client, next_):
    client.post("/lock/")
    return client.post(f"/re-enter/?next={next_}", {"word": factories.PASSWORD})


def never_locked(client, next_):
    return client.get("/re-enter/", {"next": next_})


@pytest.mark.parametrize("way", [device, opened_again, opened_by_address, never_locked])
def test_back_leads_here_and_nowhere_else(as_person, ben, way):
    client = as_person(ben)
    assert way(client, HERE)["Location"] == HERE
    gone = [next_ for next_ in ELSEWHERE if way(client, next_)["Location"] not in ("/", "/bench/")]
    assert gone == []


def test_a_locked_device_forgets_a_page_of_another_host(as_person, ben):
    client = as_person(ben)
    for referrer, kept in (("https://example.com/x", "%2F"), ("http://testserver/orders/", "%2Forders%2F")):
        assert client.post("/lock/", headers={"Referer": referrer})["Location"] == f"/re-enter/?next={kept}"
