"""How many questions a page asks of the database."""

from django.db import connection
from django.test.utils import CaptureQueriesContext


def queries_of(client, path):
    """The number of queries of a page that was opened before."""
    client.get(path)
    with CaptureQueriesContext(
        connection,
    ) as asked:
        answer = client.get(path)
    assert answer.status_code == 200
    return len(asked)


def stays_the_same(client, path, more, *, most=12):
    """Whether the page asks no more once `more()` has doubled what it shows, and never more than `most`."""
    few = queries_of(client, path)
    more()
    many = queries_of(client, path)
    assert many <= most, f"{path} asks {many} queries"
    assert many == few, f"{path} asks {few}, then {many} queries"
