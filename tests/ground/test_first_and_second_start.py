"""What a start does, said and left behind."""

import os
import resource
import stat
import subprocess
import sys
import time

import pytest

from shop.ground import environment
from shop.ground.places import ROOT
from tests.running_shop import RunningShop, is_alive

# A second start may cost this many times what loading the app alone costs. The seconds that it takes are measured by
# the benchmarks; here other tests may be running.
TIMES_LOADING = 4


def loading_seconds(folder):
    """The processor time of a process that loads the app and does nothing."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    code = "import shop.wsgi, waitress, shop.urls"
    subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env={**os.environ, "WORKSHOP_DATA": str(folder)}, check=True
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_the_first_start_prepares_everything_and_gives_a_sign_in(started_once):
    folder, said = started_once
    for step in ("Preparing the database", "Collecting the static files", "Making the owner's sign-in"):
        assert f"{step} …" in said
    assert "Sign in as owner with the password " in said
    assert said.rstrip().endswith("Stopped.")
    assert {path.name for path in folder.iterdir()} >= {"shop.sqlite3", "secret-key", "set-up.json", "static", "logs"}


def test_what_it_keeps_is_for_its_owner_alone(started_once):
    folder, _ = started_once
    open_to_others = [
        path
        for path in [folder, *folder.glob("*.sqlite3"), folder / "secret-key", *folder.glob("logs/*")]
        if path.stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO)
    ]
    assert open_to_others == []


def test_the_second_start_only_starts(data):
    with RunningShop(data) as shop:
        shop.wait_until_open()
        spent = shop.processor_seconds()
        assert shop.get()[0] == 200
        assert spent < TIMES_LOADING * loading_seconds(data)
        assert "…" not in shop.said


@pytest.mark.skipif(not environment.is_ready(ROOT / "requirements.txt"), reason="this environment was made by hand")
def test_the_command_itself_starts_within_its_time(data):
    with RunningShop(data, command=[sys.executable, "-m", "shop"]) as shop:
        shop.wait_until_open()
        spent = shop.processor_seconds()
        assert shop.get()[0] == 200
        assert spent < TIMES_LOADING * loading_seconds(data)


@pytest.mark.parametrize("how", [2, 15, 1], ids=["Ctrl-C", "SIGTERM", "SIGHUP"])
def test_stopping_leaves_no_process(data, how):
    with RunningShop(data) as shop:
        shop.wait_until_open()
        children = shop.children()
        assert len(children) == 2
        assert shop.stop(how) == 0
    assert not [number for number in children if is_alive(number)]
    assert "Traceback" not in shop.said
    assert not (data / "running.json").exists()


def test_being_killed_leaves_no_process(data):
    with RunningShop(data) as shop:
        shop.wait_until_open()
        children = shop.children()
        assert shop.stop(9) == -9
    deadline = time.monotonic() + 10
    while any(map(is_alive, children)) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert not [number for number in children if is_alive(number)]


def test_listening_everywhere_lets_this_machines_names_in(data):
    with RunningShop(data, "--host", "0.0.0.0") as shop:
        address = shop.wait_until_open()
        assert shop.get()[0] == 200
        shop.address = address.replace(address.split("/")[2].split(":")[0], "127.0.0.1")
        assert shop.get()[0] == 200
