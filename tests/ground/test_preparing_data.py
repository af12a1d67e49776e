"""Which steps of the set-up are done, and which are not done again."""

import pytest

from shop.ground import data_folder
from shop.ground.words import Trouble


class Noting(data_folder.DataFolder):
    """Notes the steps instead of doing them; `fails_at` one of them."""

    def __init__(self, folder, **variables):
        super().__init__(folder, variables)
        self.steps = []
        self.fails_at = None

    def _manage(self, title, *arguments):
        if arguments[0] == self.fails_at:
            raise Trouble(f"{title} failed.")
        self.steps.append(" ".join(arguments))
        if arguments[0] == "upgrade":
            (self.folder / "shop.sqlite3").touch()
        return "Sign in as somebody.\n"


ALL = ["upgrade", "collectstatic --noinput --clear", "first_start --demo"]


@pytest.fixture
def release(monkeypatch):
    monkeypatch.setattr(data_folder, "release_fingerprint", lambda: "one")


@pytest.mark.usefixtures("release")
def test_the_first_start_does_all_and_the_second_nothing(tmp_path):
    first, second = Noting(tmp_path), Noting(tmp_path)
    assert first.prepare(with_demo=True) == "Sign in as somebody.\n"
    assert second.prepare(with_demo=True) == ""
    assert (first.steps, second.steps) == (ALL, [])
    assert second.demo_sign_ins() == "Sign in as somebody.\n"


@pytest.mark.usefixtures("release")
@pytest.mark.parametrize("step", range(3))
def test_a_set_up_that_was_cut_off_goes_on(tmp_path, step):
    first, second = Noting(tmp_path), Noting(tmp_path)
    first.fails_at = ALL[step].split()[0]
    with pytest.raises(Trouble):
        first.prepare(with_demo=True)
    second.prepare(with_demo=True)
    assert first.steps == ALL[:step]
    assert second.steps == (ALL if step < 2 else ALL[2:])


def test_an_upgrade_migrates_and_leaves_the_rest(tmp_path, monkeypatch):
    monkeypatch.setattr(data_folder, "release_fingerprint", lambda: "one")
    Noting(tmp_path).prepare(with_demo=True)
    monkeypatch.setattr(data_folder, "release_fingerprint", lambda: "two")
    upgraded = Noting(tmp_path)
    upgraded.prepare(with_demo=True)
    assert upgraded.steps == ALL[:2]


@pytest.mark.usefixtures("release")
def test_a_workshop_begun_empty_never_gets_the_demo(tmp_path):
    empty, later = Noting(tmp_path), Noting(tmp_path)
    empty.prepare(with_demo=False)
    later.prepare(with_demo=True)
    assert empty.steps[-1] == "first_start"
    assert later.steps == []
    assert later.demo_sign_ins() == ""


@pytest.mark.usefixtures("release")
def test_a_database_on_a_server_is_always_asked(tmp_path):
    Noting(tmp_path, DATABASE_URL="postgres://somewhere/shop").prepare(with_demo=True)
    again = Noting(tmp_path, DATABASE_URL="postgres://somewhere/shop")
    again.prepare(with_demo=True)
    assert again.steps == ALL[:2]


def test_a_full_disk_is_said(tmp_path, monkeypatch):
    monkeypatch.setattr(data_folder, "NEEDED_MB", 10**12)
    with pytest.raises(Trouble, match="The disk is full"):
        data_folder.open_folder(tmp_path / "data")
