"""Somebody at the counter of a running shop, by HTTP alone: what was answered is what they believe to be kept."""

import http.client
import re
import uuid
from http.cookies import SimpleCookie
from urllib.parse import urlencode, urlsplit

from tests import factories
from tests.counter_builders import form_data

PATIENCE_S = 30


class NoAnswer(Exception):
    """The shop went away in the middle, or answered something else than expected."""


class Counter:
    def __init__(self, address, cookies=None):
        self.place = urlsplit(address).netloc
        self.cookies = dict(cookies or {})

    def ask(self, method, path, data=None):
        """One request on a connection of its own; returns (status, headers, body)."""
        headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items())}
        body = None
        if data is not None:
            body = urlencode({**data, "csrfmiddlewaretoken": self.cookies.get("csrftoken", "")})
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        connection = http.client.HTTPConnection(self.place, timeout=PATIENCE_S)
        try:
            connection.request(method, path, body, headers)
            answer = connection.getresponse()
            content = answer.read()
        except (OSError, http.client.HTTPException) as error:
            raise NoAnswer(str(error)) from error
        finally:
            connection.close()
        for line in answer.headers.get_all("Set-Cookie", []):
            self.cookies |= {name: one.value for name, one in SimpleCookie(line).items()}
        return answer.status, answer.headers, content.decode(errors="replace")

    def sign_in(self, name="cleo", password=factories.PASSWORD):
        self.ask("GET", "/sign-in/")
        status, _, _ = self.ask("POST", "/sign-in/", {"username": name, "password": password})
        if status != 302:
            raise NoAnswer(f"signing in was answered {status}")
        return self

    def book_in(self, key=None):
        """Book a new customer's instrument in, with one line; returns the order's number once it was promised kept."""
        key = key or uuid.uuid4()
        data = form_data(
            job__draft_key=str(key), lines__0__text="Setup", lines__0__price="85.00", lines__0__minutes="60",
            customer__email=f"{key}@example.com", instrument__serial=str(key)[:8],
        )  # fmt: skip
        status, headers, body = self.ask("POST", "/counter/book-in/", data)
        if status != 302:
            said = re.sub(r"<[^>]+>|\s+", " ", body)[:600]
            raise NoAnswer(f"booking in was answered {status}: {said}")
        return re.search(r"\d\d-\d{4,}", headers["Location"])[0]
