"""The file .env beside manage.py."""

import os
from pathlib import Path

import pytest

from shop.ground import env_file


def test_reads_names_and_values():
    text = "# mail\nWORKSHOP_SMTP_HOST=mail.example.com\n\nexport WORKSHOP_HOSTS = 'a.test, b.test'\nDATABASE_URL=\n"
    assert env_file.parse(text) == {
        "WORKSHOP_SMTP_HOST": "mail.example.com", "WORKSHOP_HOSTS": "a.test, b.test", "DATABASE_URL": "",
    }  # fmt: skip


def test_a_line_that_says_nothing_is_named():
    with pytest.raises(env_file.EnvFileError, match=r"Line 2 of \.env is not of the form NAME=value\."):
        env_file.parse("A=1\nhello\n")


def test_the_environment_wins(tmp_path, monkeypatch):
    monkeypatch.setenv("WORKSHOP_A", "mine")
    monkeypatch.delenv("WORKSHOP_B", raising=False)
    (tmp_path / ".env").write_text("WORKSHOP_A=file\nWORKSHOP_B=file\n")
    env_file.load(tmp_path / ".env")
    assert (os.environ["WORKSHOP_A"], os.environ.pop("WORKSHOP_B")) == ("mine", "file")


def test_the_example_as_it_stands_changes_nothing(monkeypatch):
    example = Path(__file__).resolve().parents[2] / ".env.example"
    monkeypatch.setattr(os, "environ", {})
    env_file.load(example)
    assert os.environ == {
        "WORKSHOP_DATA": ".data", "WORKSHOP_DEBUG": "0", "WORKSHOP_BEHIND_HTTPS": "0",
        "WORKSHOP_PROXY": "127.0.0.1", "WORKSHOP_SMTP_PORT": "587", "WORKSHOP_SMTP_SSL": "0",
        "WORKSHOP_SLOW_MS": "1000", "WORKSHOP_BACKUP_EVERY_HOURS": "24",
    }  # fmt: skip


def test_no_file_is_no_trouble(tmp_path):
    assert env_file.load(tmp_path / ".env") is None


def test_a_file_that_is_not_text_is_named(tmp_path):
    (tmp_path / ".env").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(env_file.EnvFileError, match="cannot be read"):
        env_file.load(tmp_path / ".env")
