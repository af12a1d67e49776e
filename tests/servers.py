"""Databases of a test's own on the PostgreSQL server that the tests were started with."""

import os
import uuid
from urllib.parse import urlsplit, urlunsplit

import psycopg
import pytest

needs_server = pytest.mark.skipif(
    not os.environ.get("DATABASE_URL", "").startswith("postgres"), reason="runs with --database postgresql"
)


def new_database(template="template0"):
    """The address of a new database, which goes with the server."""
    whole = os.environ["DATABASE_URL"]
    name = f"own_{uuid.uuid4().hex}"
    with psycopg.connect(whole, autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{name}" TEMPLATE "{template}"')
    return urlunsplit(urlsplit(whole)._replace(path=f"/{name}"))


def name_in(address):
    return urlsplit(address).path.lstrip("/")
