"""One at a time among all machines that share a database server. The lock is the server's and ends with its session."""

from contextlib import contextmanager

from django.db import DatabaseError, connection


@contextmanager
def held(number):
    """Wait for the advisory lock `number`, any that nobody else takes, and hold it while the block lasts."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_lock(%s)", [number])
    try:
        yield
    finally:
        try:
            with connection.cursor() as cursor:
                cursor.execute("SELECT pg_advisory_unlock(%s)", [number])
        except DatabaseError:  # the server is gone, and the lock with it
            connection.close()
