"""Each reason is one sentence on the terminal, exit code 1, and no traceback."""

import os
import socket
import subprocess
import sys

import pytest

from tests.running_shop import ROOT, START, RunningShop

AS_NOBODY = START.replace("sys.exit(", "import os\nif os.geteuid() == 0:\n    os.setuid(65534)\nsys.exit(")


def refused(*arguments, data, code=START):
    """Start, and return what was said when it ended by itself."""
    ended = subprocess.run(
        [sys.executable, "-c", code, "--data", str(data), *arguments],
        cwd=ROOT, capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert ended.returncode == 1
    said = ended.stderr.strip()
    assert "Traceback" not in said
    assert "\n" not in said
    return said


def test_a_taken_port(data):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert f"Port {port} is taken by another program" in refused("--port", str(port), data=data)


def test_a_second_start_on_the_same_data(data):
    with RunningShop(data) as shop:
        address = shop.wait_until_open()
        assert f"is already running at {address} by process {shop.process.pid}" in refused("--port", "0", data=data)
        assert shop.get()[0] == 200


def test_an_address_of_another_machine(data):
    assert "There is no address 203.0.113.5" in refused("--host", "203.0.113.5", data=data)


def test_a_file_in_the_folders_place(tmp_path):
    (tmp_path / "data").touch()
    assert "is not a folder" in refused("--port", "0", data=tmp_path / "data")


def test_a_folder_that_may_not_be_written_to(tmp_path):
    locked = tmp_path / "locked"
    locked.mkdir(mode=0o500)
    said = refused("--port", "0", data=locked / "data", code=AS_NOBODY)
    assert said.startswith(f"You may not write to {locked / 'data'}")


def test_data_that_is_no_database(data):
    (data / "shop.sqlite3").write_bytes(b"not a database, " * 1000)
    (data / "set-up.json").unlink()
    assert "Preparing the database failed: file is not a database" in refused("--port", "0", data=data)


@pytest.mark.parametrize("stamped", [True, False], ids=["second start", "first start"])
def test_a_setting_that_makes_no_sense(data, monkeypatch, stamped):
    if not stamped:
        (data / "set-up.json").unlink()
    monkeypatch.setenv("WORKSHOP_DEBUG", "perhaps")
    assert "WORKSHOP_DEBUG must be 1 or 0, not 'perhaps'" in refused("--port", "0", data=data)


def test_a_web_server_that_dies_ends_the_whole(data):
    with RunningShop(data) as shop:
        shop.wait_until_open()
        web = next(number for number, command in shop.children().items() if "shop.serve" in command)
        others = set(shop.children()) - {web}
        os.kill(web, 9)
        assert shop.finish() == 1
    assert "The web server stopped: signal 9." in shop.said
    assert not others & set(shop.children())
