"""What the operating system has to bring. A stand-in for apt-get notes what it was asked, and brings files."""

import io
import os
import sys

import pytest

from shop.ground import system
from shop.ground.words import Trouble

APT = """#!/bin/sh
echo "$(basename "$0") $*" >> "{log}"
[ -e "{broken}" ] && {{ echo "E: Unable to fetch some archives" >&2; exit 100; }}
[ "$1" = update ] && touch "{fresh}"
[ "$1" = install ] && [ ! -e "{fresh}" ] && {{ echo "E: Unable to locate package" >&2; exit 100; }}
touch "{brought}"
"""


@pytest.fixture
def machine(tmp_path, monkeypatch):
    """A machine whose package manager is ours."""
    programs = tmp_path / "bin"
    programs.mkdir()
    names = {name: tmp_path / name for name in ("log", "broken", "fresh", "brought")}
    for name in ("apt-get", "dpkg"):
        (programs / name).write_text(APT.format(**names))
        (programs / name).chmod(0o755)
    names["log"].touch()
    monkeypatch.setenv("PATH", f"{programs}:{os.environ['PATH']}")
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    names["programs"] = programs
    return names


def need(machine):
    return system.Need("the thing", "thing-package", machine["brought"].exists)


def test_nothing_is_asked_for_when_all_is_there(machine):
    machine["brought"].touch()
    system.see_to([need(machine)])
    assert machine["log"].read_text() == ""


def test_root_installs_and_says_so_first(machine, capsys):
    machine["fresh"].touch()
    system.see_to([need(machine)])
    assert machine["log"].read_text() == "apt-get install -y --no-install-recommends thing-package\n"
    said = capsys.readouterr().out
    assert "This machine lacks the thing." in said
    assert "apt-get install -y --no-install-recommends thing-package" in said


def test_a_fresh_machines_lists_are_fetched_first(machine):
    system.see_to([need(machine)])
    asked = machine["log"].read_text().splitlines()
    assert [line.split()[1] for line in asked] == ["install", "--configure", "update", "install"]


def test_without_network_the_line_to_run_is_said(machine):
    machine["broken"].touch()
    with pytest.raises(Trouble, match="because there is no network: run this and then start again: sudo apt-get"):
        system.see_to([need(machine)])


def test_without_any_right_only_the_line_is_said(machine, monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    (machine["programs"] / "sudo").write_text("#!/bin/sh\nexit 1\n")
    (machine["programs"] / "sudo").chmod(0o755)
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    with pytest.raises(Trouble, match=r"run this and then start again: sudo apt-get install -y .* thing-package$"):
        system.see_to([need(machine)])
    assert machine["log"].read_text() == ""


def test_sudo_is_used_where_it_asks_nothing(machine, monkeypatch):
    machine["fresh"].touch()
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    (machine["programs"] / "sudo").write_text('#!/bin/sh\nshift\nexec "$@"\n')
    (machine["programs"] / "sudo").chmod(0o755)
    system.see_to([need(machine)])
    assert "apt-get install" in machine["log"].read_text()


def test_a_machine_without_apt_is_told_the_names(machine, monkeypatch):
    monkeypatch.setenv("PATH", "/nonexistent")
    with pytest.raises(Trouble, match="install what Debian calls thing-package"):
        system.see_to([need(machine)])


def test_a_missing_library_and_program_are_seen():
    assert not system.library("libof-nobody.so.7")()
    assert system.library("libof-nobody.so.7", "libc.so.6")()
    assert not system.program("program-of-nobody")()


def test_this_machine_can_make_papers():
    """The libraries that the tests of papers rest on; `python3 -m tests` brings them."""
    assert system.missing(system.PAPERS) == []
