"""A table of ten thousand rows: read in beside the page, told how far, stopped, and all of it or nothing."""

import threading
import time

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from shop.figures.carrying import importing, running
from shop.people.models import Customer

pytestmark = pytest.mark.django_db(transaction=True)
ROWS = 10_000
HEAD = "name,e-mail,telephone\n"


def table(count=ROWS, last=""):
    rows = "".join(f"Person {n},p{n}@example.com,+44 1632 {n:06d}\n" for n in range(count))
    return f"{HEAD}{rows}{last}".encode()


def upload(client, data):
    return client.post("/office/data/customers/", {"file": SimpleUploadedFile("table.csv", data)})


def ended(client):
    """The page once reading in has ended, and how long that took."""
    began = time.monotonic()
    while time.monotonic() - began < 120:
        page = client.get("/office/data/customers/run/")
        if "hx-trigger" not in page.text:
            return page, time.monotonic() - began
        time.sleep(0.2)
    raise AssertionError("It never ended.")


def test_ten_thousand_rows_are_told_and_written_together(as_person, ada):
    client = as_person(ada)
    assert f"Write all {ROWS}" in upload(client, table()).text
    assert client.post("/office/data/customers/write/")["Location"] == "/office/data/customers/run/"
    assert "<progress" in client.get("/office/data/customers/run/").text
    page, seconds = ended(client)
    assert f"{ROWS} customers read in." in page.text
    assert Customer.objects.count() == ROWS
    assert Customer.objects.with_telephone("01632 000042").get().created_by == ada
    assert seconds < 60
    assert f"{ROWS} customers read in." in client.get("/office/data/customers/run/").text  # reloaded
    assert "Nothing is being read in" in client.get("/office/data/instruments/run/", follow=True).text


def test_stopped_it_leaves_nothing(as_person, ada):
    client = as_person(ada)
    upload(client, table())
    client.post("/office/data/customers/write/")
    client.post("/office/data/customers/stop/")
    by_itself = {"headers": {"HX-Request": "true"}}
    while "HX-Refresh" not in (told := client.get("/office/data/customers/run/", **by_itself)).headers:
        assert "hx-trigger" in told.text
        time.sleep(0.2)
    page, _ = ended(client)  # what the page asked by itself has taken nothing away
    assert "Stopped. Nothing was written." in page.text
    assert not Customer.objects.exists()


@pytest.mark.parametrize("at", [500, 2_500])
def test_stopped_or_broken_in_the_middle_of_writing_it_leaves_nothing(ada, at, monkeypatch, own_files):
    name = importing.keep(table(3_000))

    def ask(done, of):
        if done >= at:
            running.stop(name)

    report = running._report
    monkeypatch.setattr(running, "_report", lambda kept, stage: lambda done, of: (
        ask(done, of) if stage == running.WRITING else None, report(kept, stage)(done, of)))  # fmt: skip
    running.begin("customers", name, by=ada).join()
    assert running.progress_of(name).stage == running.STOPPED
    assert not Customer.objects.exists()


def test_who_came_meanwhile_stops_nothing_but_is_left_out(ada, own_files):
    name = importing.keep(table(2_000))
    Customer.objects.create(name="Person 7", email="p7@example.com")
    running.begin("customers", name, by=ada).join()
    assert running.progress_of(name).said == "1999 customers read in."


def test_a_run_that_was_cut_off_is_said(ada, own_files, monkeypatch):
    name = importing.keep(table(10))
    running._say(name, running.Progress(running.WRITING, 5, 10))
    assert running.progress_of(name).is_running
    later = time.time() + 300
    monkeypatch.setattr(running.time, "time", lambda: later)
    assert "cut off" in running.progress_of(name).said


def test_one_bad_row_of_ten_thousand_and_nothing_is_written(as_person, ada):
    client = as_person(ada)
    page = upload(client, table(last="Max,not an address,\n"))
    assert f"Line {ROWS + 2}" in page.text
    assert "no file that waits" in client.post("/office/data/customers/write/", follow=True).text
    assert not Customer.objects.exists()
    assert not [one for one in threading.enumerate() if one.name.startswith("import")]
