"""The two commands, beside a workshop that is running, and a start on what came back."""

from tests.processes import manage
from tests.running_shop import RunningShop


def test_back_up_while_running_and_go_on_elsewhere(data, tmp_path):
    kept = tmp_path / "kept.zip"
    with RunningShop(data) as shop:
        shop.wait_until_open()
        made = manage(data, "backup", kept)
        assert made.returncode == 0, made.stderr
        assert made.stdout.startswith(f"{kept} holds ")
        again = manage(data, "restore", kept)
        assert again.returncode == 1
        assert again.stderr == f"CommandError: The workshop in {data} is running: stop it first.\n"
    brought = manage(tmp_path / "new", "restore", kept)
    assert brought.returncode == 0, brought.stderr
    assert brought.stdout.endswith("Start it with: python3 -m shop\n")
    with RunningShop(tmp_path / "new") as shop:
        shop.wait_until_open()
        assert shop.get()[0] == 200
        assert "Filling the demo workshop" not in shop.said


def test_a_file_that_is_not_there(tmp_path):
    ended = manage(tmp_path / "new", "restore", tmp_path / "nothing.zip")
    assert (ended.returncode, ended.stderr) == (1, f"CommandError: There is no file {tmp_path / 'nothing.zip'}.\n")
