"""Django's own advice for a site that is open to the world finds nothing to say."""

import pytest

from tests.processes import manage

BEHIND_HTTPS = {"WORKSHOP_BEHIND_HTTPS": "1", "WORKSHOP_PUBLIC_ADDRESS": "https://shop.example.com"}


def test_behind_https_there_is_no_warning(tmp_path):
    done = manage(tmp_path, "check", "--deploy", "--fail-level", "WARNING", **BEHIND_HTTPS)
    assert done.returncode == 0, done.stderr
    assert "no issues (0 silenced)" in done.stdout + done.stderr


@pytest.mark.parametrize("id_", ["security.W008", "security.W016"])
def test_without_https_it_says_what_is_missing(tmp_path, id_):
    done = manage(tmp_path, "check", "--deploy", "--fail-level", "WARNING")
    assert id_ in done.stderr
