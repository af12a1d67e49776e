"""Databases of a test's own on the PostgreSQL server that the tests were started with."""

import os
import uuid
from urllib.parse import urlsplit, urlunsplit

import psycopg
import pytest

# As the tests were started: some of them take it from their own environment, to work on a file.
SERVER = os.environ.get("DATABASE_URL", "")
has_server = SERVER.startswith("postgres")
needs_server = pytest.mark.skipif(not has_server, reason="runs with --database postgresql")


def new_database(template="template0"):
    """The address of a new database, which goes with the server."""
    name = f"own_{uuid.uuid4().hex}"
    with psycopg.connect(SERVER, autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{name}" TEMPLATE "{template}"')
    return urlunsplit(urlsplit(SERVER)._replace(path=f"/{name}"))


def name_in(address):
    return urlsplit(address).path.lstrip("/")
