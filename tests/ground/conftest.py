"""One workshop that has been started once, and copies of it."""

import shutil

import pytest

from tests.running_shop import RunningShop


@pytest.fixture(autouse=True)
def work_on_files(monkeypatch):
    """A data folder's own SQLite file is what these tests work on, whatever the others run on."""
    monkeypatch.delenv("DATABASE_URL", raising=False)


@pytest.fixture(scope="session")
def started_once(tmp_path_factory):
    """A data folder after its first start without a demo, and what that start said."""
    folder = tmp_path_factory.mktemp("started-once") / "data"
    with RunningShop(folder, "--no-demo") as shop:
        shop.wait_until_open()
        assert shop.stop() == 0
    return folder, shop.said


@pytest.fixture
def data(started_once, tmp_path):
    """A workshop's data of this test's own."""
    return shutil.copytree(started_once[0], tmp_path / "data")


@pytest.fixture
def at_folder(settings, monkeypatch):
    """Makes this process work on a data folder that is given."""

    def use(folder):
        settings.DATA_DIR = folder
        settings.FILES_ROOT = folder / "files"
        settings.EMAIL_FILE_PATH = folder / "outbox"
        settings.BACKUPS_ROOT = folder / "backups"
        # In place: no connection is made in these tests, and replacing the setting would be warned of.
        monkeypatch.setitem(settings.DATABASES["default"], "ENGINE", "django.db.backends.sqlite3")
        monkeypatch.setitem(settings.DATABASES["default"], "NAME", folder / "shop.sqlite3")
        return folder

    return use


@pytest.fixture
def workshop(data, at_folder):
    """A stopped workshop with a photograph, a paper, a local mail and names that are hard on files."""
    for name, content in {
        "files/photos/2026/11/front.jpg": b"\xff\xd8\xff" + bytes(range(256)) * 50,
        "files/papers/2026/11/Änderung – 6 Saiten.pdf": b"%PDF-1.7 ...",
        "files/papers/2026/11/empty.pdf": b"",
        "outbox/20261125.log": b"Subject: ready\n\n",
    }.items():
        (data / name).parent.mkdir(parents=True, exist_ok=True)
        (data / name).write_bytes(content)
    return at_folder(data)
