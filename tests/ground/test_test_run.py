"""What `python3 -m tests` runs, and on which database."""

import pytest

from shop.ground import test_run as runner
from shop.ground.words import Trouble


def runs(*words):
    return runner.runs_for(*runner.chosen_database(list(words)))


def test_nothing_asked_for_is_everything_on_both_databases():
    assert runs() == {
        "sqlite": runner.SHARED_OUT,
        "postgresql": [*runner.SHARED_OUT, "--asking-the-database"],
    }


@pytest.mark.parametrize("words", [["--database", "postgresql"], ["--database=postgresql"]])
def test_a_database_can_be_chosen(words):
    assert runs(*words) == {"postgresql": runner.SHARED_OUT}
    assert runs(*words, "tests/billing", "-k", "credit") == {"postgresql": ["tests/billing", "-k", "credit"]}


def test_options_alone_still_share_out():
    assert runs("-x") == {"sqlite": [*runner.SHARED_OUT, "-x"]}
    assert runs("tests/billing") == {"sqlite": ["tests/billing"]}


def test_an_unknown_database_is_refused():
    with pytest.raises(Trouble, match="sqlite, postgresql"):
        runs("--database", "paper")


def test_only_the_benchmarks_ask_for_the_browser_that_people_have():
    def packages(*words):
        return {need.package for need in runner.needs_of(runs(*words))}

    assert packages("bench") - packages("tests/billing") == {"chromium"}
    assert packages() - packages("tests/billing") == {"postgresql"}


def test_a_failure_on_either_database_fails_the_run(monkeypatch):
    monkeypatch.setattr(runner.environment, "see_to", lambda *_: "python")
    monkeypatch.setattr(runner, "listen_to_signals", lambda: None)
    for codes, said in (({"sqlite": 0, "postgresql": 0}, 0), ({"sqlite": 1, "postgresql": 0}, 1),
                        ({"sqlite": 0, "postgresql": 1}, 1), ({"sqlite": 0, "postgresql": -9}, -9)):  # fmt: skip
        monkeypatch.setattr(runner, "run", lambda database, command, codes=codes: codes[database])
        assert runner.main([]) == said
