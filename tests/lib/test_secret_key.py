"""The secret key that is made at the first start."""

import multiprocessing
import os
import stat

import pytest
from django.core.exceptions import ImproperlyConfigured

from shop.lib import secret_key
from shop.lib.secret_key import kept_secret_key


def test_it_is_made_once_and_for_the_owner_alone(tmp_path):
    path = tmp_path / "new" / "secret-key"
    key = kept_secret_key(path)
    assert len(key) == 100
    assert kept_secret_key(path) == key
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert list(path.parent.iterdir()) == [path]


def ask(path, start, answers):
    start.wait()
    answers.put(kept_secret_key(path))


def test_processes_that_start_together_agree(tmp_path):
    """None reads the file while another one has made it and not yet written it."""
    context, path = multiprocessing.get_context("fork"), tmp_path / "secret-key"
    start, answers = context.Event(), context.Queue()
    asking = [context.Process(target=ask, args=(path, start, answers)) for _ in range(8)]
    for one in asking:
        one.start()
    start.set()
    keys = {answers.get(timeout=30) for _ in asking}
    for one in asking:
        one.join(timeout=30)
    assert len(keys) == 1
    assert [one.exitcode for one in asking] == [0] * 8


def test_a_machine_that_stops_meanwhile_leaves_none(tmp_path, monkeypatch):
    path = tmp_path / "secret-key"
    monkeypatch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(ImproperlyConfigured, match=r"cannot be written to .*: No space left on device"):
        kept_secret_key(path)
    assert list(tmp_path.iterdir()) == []


def test_where_no_links_are_made(tmp_path, monkeypatch):
    monkeypatch.setattr(secret_key.Path, "hardlink_to", lambda *_: (_ for _ in ()).throw(PermissionError()))
    assert kept_secret_key(tmp_path / "secret-key") == (tmp_path / "secret-key").read_text()


def test_one_that_is_too_short_is_refused(tmp_path):
    (tmp_path / "secret-key").write_text("short")
    with pytest.raises(ImproperlyConfigured, match="holds no usable secret key"):
        kept_secret_key(tmp_path / "secret-key")
