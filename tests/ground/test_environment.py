"""The virtual environment is made once, and made again only when it has to be."""

import pytest

from shop.ground import environment, stamps, steps
from shop.ground.words import Trouble


class Runner:
    """Stands in for `python -m venv` and pip."""

    def __init__(self, venv):
        self.venv = venv
        self.asked = []
        self.pip = steps.Outcome(0, "Installing collected packages: a")
        self.cut_off = False

    def __call__(self, command, **options):
        if "venv" in command:
            self.asked.append("venv")
            (self.venv / "bin").mkdir(parents=True)
            (self.venv / "bin" / "python").touch(mode=0o755)
            return steps.Outcome(0, "")
        self.asked.append("pip")
        if self.cut_off:
            raise KeyboardInterrupt
        return self.pip


@pytest.fixture
def root(tmp_path, monkeypatch):
    venv = tmp_path / ".venv"
    for name, value in {
        "ROOT": tmp_path, "VENV": venv, "PYTHON": venv / "bin" / "python", "STAMP": venv / "made-of.json",
        "LOG": venv / "set-up.log", "WHEELS": tmp_path / ".wheels",
    }.items():  # fmt: skip
        monkeypatch.setattr(environment, name, value)
    (tmp_path / "requirements.txt").write_text("a==1\n")
    (tmp_path / "tests").mkdir()
    (tmp_path / "tests" / "requirements.txt").write_text("-r ../requirements.txt\nb==1\n")
    return tmp_path


@pytest.fixture
def runner(root, monkeypatch):
    runner = Runner(root / ".venv")
    monkeypatch.setattr(steps, "run", runner)
    return runner


def see_to(root, name="requirements.txt"):
    return environment.see_to(root / name, needs=())


def test_it_is_made_once(root, runner):
    assert see_to(root) == root / ".venv" / "bin" / "python"
    see_to(root)
    assert runner.asked == ["venv", "pip"]


def test_changed_requirements_are_installed_into_it(root, runner):
    see_to(root)
    (root / "requirements.txt").write_text("a==2\n")
    see_to(root)
    assert runner.asked == ["venv", "pip", "pip"]


def test_the_tests_need_more_of_the_same_one(root, runner):
    see_to(root)
    see_to(root, "tests/requirements.txt")
    see_to(root)
    assert runner.asked == ["venv", "pip", "pip"]


def test_what_the_tests_installed_serves_the_shop(root, runner):
    see_to(root, "tests/requirements.txt")
    see_to(root)
    assert runner.asked == ["venv", "pip"]


def test_another_python_makes_it_anew(root, runner, monkeypatch):
    see_to(root)
    monkeypatch.setattr(environment, "BASE_PYTHON", "/opt/other/python3")
    see_to(root)
    assert runner.asked == ["venv", "pip", "venv", "pip"]


def test_one_that_was_cut_off_is_made_anew(root, runner):
    runner.cut_off = True
    with pytest.raises(KeyboardInterrupt):
        see_to(root)
    runner.cut_off = False
    see_to(root)
    assert runner.asked == ["venv", "pip", "venv", "pip"]


def test_no_network_is_said_and_what_was_there_stands(root, runner):
    see_to(root)
    before = stamps.read(environment.STAMP)
    (root / "requirements.txt").write_text("a==2\n")
    runner.pip = steps.Outcome(1, "NewConnectionError\nERROR: No matching distribution found for a==2")
    with pytest.raises(Trouble, match="because there is no network: connect this machine once"):
        see_to(root)
    assert stamps.read(environment.STAMP) == before


def test_a_full_disk_is_said_before_anything_is_done(root, runner, monkeypatch):
    monkeypatch.setattr(environment, "NEEDED_MB", 10**12)
    with pytest.raises(Trouble, match=r"The disk is full: \d+ MB are needed in .*, and \d+ MB are free\."):
        see_to(root)
    assert runner.asked == []


def test_nothing_of_the_users_own_python_settings_reaches_pip(monkeypatch):
    monkeypatch.setenv("PYTHONPATH", "/elsewhere")
    monkeypatch.setenv("PIP_TARGET", "/elsewhere")
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    monkeypatch.setenv("PIP_USER", "1")
    given = environment.steps.child_environment()
    assert "PYTHONPATH" not in given
    assert "PIP_TARGET" not in given
    assert "PYTHONDONTWRITEBYTECODE" not in given
    assert given["PIP_USER"] == "0"


def test_a_torn_note_counts_as_none(tmp_path):
    (tmp_path / "note").write_text('{"interpreter": ["/usr/')
    assert stamps.read(tmp_path / "note") == {}
