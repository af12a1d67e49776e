"""What the settings make of the environment that a service is given."""

import re
import runpy
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
VARIABLES = re.findall(r"^([A-Z_]+)=", (ROOT / ".env.example").read_text(), re.MULTILINE)


@pytest.fixture
def settings_with(monkeypatch, tmp_path):
    """{name: value} of the settings with these variables; `empty` for the value of every other one, or None."""

    def read(empty, **given):
        for name in VARIABLES:
            monkeypatch.delenv(name, raising=False)
            if empty is not None:
                monkeypatch.setenv(name, empty)
        for name, value in {"WORKSHOP_DATA": str(tmp_path), **given}.items():
            monkeypatch.setenv(name, value)
        found = runpy.run_path(str(ROOT / "shop" / "settings.py"))
        return {name: value for name, value in found.items() if name.isupper()}

    return read


@pytest.mark.parametrize(
    "given", [{}, {"WORKSHOP_SMTP_HOST": "mail.example.com"}, {"DATABASE_URL": "postgres://shop@db.example.com/shop"}]
)
def test_an_empty_variable_is_as_good_as_none(settings_with, given):
    """systemd's EnvironmentFile= and its like set a line without a value to nothing, and do not leave it out."""
    assert settings_with("", **given) == settings_with(None, **given)


def test_mail_to_a_server_is_encrypted_unless_somebody_says_otherwise(settings_with):
    assert settings_with("", WORKSHOP_SMTP_HOST="mail.example.com")["EMAIL_USE_TLS"] is True
    plain = settings_with(None, WORKSHOP_SMTP_HOST="mail.example.com", WORKSHOP_SMTP_TLS="0")
    assert plain["EMAIL_USE_TLS"] is False
