"""Fixtures shared by every room's tests."""

import gc
import shutil
import threading

import pytest
from django.db import connection

from shop.lib import sending
from tests import factories, migrated, servers

ASKING = {"db", "transactional_db", "live_server", "django_db_setup"}


def pytest_addoption(parser):
    parser.addoption("--asking-the-database", action="store_true", help="only tests that ask it, without a browser")


def pytest_collection_modifyitems(config, items):
    """For a second database: leave out what cannot differ there, and the browser, which sees the same pages."""
    if config.getoption("--asking-the-database"):
        kept = [item for item in items if asks(item)]
        config.hook.pytest_deselected(items=[item for item in items if item not in kept])
        items[:] = kept


def asks(item):
    if item.get_closest_marker("browser"):
        return False
    return bool(ASKING & set(item.fixturenames)) or servers.needs_server.mark in item.iter_markers("skipif")


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings, tmp_path_factory):
    """Begin with what is migrated already. SQLite tests run on a file: one in memory, shared by threads, locks tables.

    It is thrown away, and nothing of it need reach the disk. What is tested for survival works on a file of its own.
    """
    settings = connection.settings_dict
    if connection.vendor == "sqlite":
        settings["OPTIONS"]["init_command"] += " PRAGMA synchronous=OFF;"
        settings["TEST"]["NAME"] = str(tmp_path_factory.mktemp("database") / "test.sqlite3")
        shutil.copyfile(migrated.file(), settings["TEST"]["NAME"])
    else:
        settings["TEST"]["TEMPLATE"] = migrated.on_server()


@pytest.fixture(scope="session")
def django_db_keepdb(django_db_keepdb, django_db_modify_db_settings):
    """The file that was laid there is not to be made anew."""
    return django_db_keepdb or connection.vendor == "sqlite"


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup, django_db_blocker):
    """SQLite empties its tables row by row after a live server's tests; the record would refuse, as it should."""
    if connection.vendor == "sqlite":
        with django_db_blocker.unblock(), connection.cursor() as cursor:
            cursor.execute("DROP TRIGGER IF EXISTS kept_staff_auditentry")


@pytest.fixture(scope="session", autouse=True)
def places_for_downloads():
    """As many as anybody wants: a test asks for files that it never reads, one after the other, and must get each."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sending, "_places", threading.Semaphore(1_000_000))
        yield


def pytest_collection_finish():
    """What has been loaded by now stays: Python need not look through it again and again for what may go."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


@pytest.fixture
def ada(db):
    return factories.ada()


@pytest.fixture
def ben(db):
    return factories.ben()


@pytest.fixture
def cleo(db):
    return factories.cleo()


@pytest.fixture
def as_person(client):
    """Sign a person in and return the client."""

    def sign_in(person):
        client.force_login(person)
        return client

    return sign_in


@pytest.fixture(autouse=True)
def own_files(settings, tmp_path):
    """Each test keeps its files and outbox in a folder of its own."""
    settings.FILES_ROOT = tmp_path / "files"
    storages = {**settings.STORAGES}
    storages["default"] = {
        **storages["default"],
        "OPTIONS": {**storages["default"]["OPTIONS"], "location": settings.FILES_ROOT},
    }
    settings.STORAGES = storages
    settings.EMAIL_FILE_PATH = tmp_path / "outbox"
