"""`python3 -m tests`: prepares the environment for tests and runs pytest in it."""

import os
import subprocess

from shop.ground import env_file, environment, postgres, system
from shop.ground.places import ROOT, child_environment
from shop.ground.start import Stopped, listen_to_signals
from shop.ground.words import Trouble, complain, say, sentence_for

# What is asked for by its name, and prints what it measured.
LONG_RUNS = {"bench": "tests/benchmarks", "load": "tests/load", "faults": "tests/faults"}
DATABASES = ("sqlite", "postgresql")
# All the tests are shared out to one process more than the machine has processors, four at most, since those in a
# browser and those of servers often wait. Each has a database and a browser of its own.
SHARED_OUT = ["-n", str(min((os.cpu_count() or 1) + 1, 4)), "--dist", "worksteal"]
USE = f"--database is followed by one of {', '.join(DATABASES)}."


def main(arguments):
    """Run pytest with these arguments, on one database or one after the other; return 0 when all went well."""
    listen_to_signals()
    try:
        runs = runs_for(*chosen_database(list(arguments)))
        python = environment.see_to(ROOT / "tests" / "requirements.txt", needs_of(runs))
        codes = [run(database, [str(python), "-m", "pytest", *words]) for database, words in runs.items()]
        return max(codes, key=abs)
    except Stopped:
        say("Stopped.")
    except (Trouble, env_file.EnvFileError) as trouble:
        complain(trouble)
    except OSError as error:
        complain(sentence_for(error))
    return 1


def chosen_database(arguments):
    """The database asked for by `--database NAME` or `--database=NAME`, or None, and the arguments without it."""
    for place, word in enumerate(arguments):
        option, equals, name = word.partition("=")
        if option != "--database":
            continue
        rest = arguments[place + 1 :]
        name = name if equals else "".join(rest[:1])
        if name not in DATABASES:
            raise Trouble(USE)
        return name, [*arguments[:place], *rest[0 if equals else 1 :]]
    return None, arguments


def runs_for(database, arguments):
    """What pytest is called with on each database, in order.

    Nothing asked for is everything on SQLite, and after it on PostgreSQL whatever asks a database; a
    browser sees the same pages on both.
    """
    if database or arguments:
        return {database or DATABASES[0]: pytest_arguments(arguments)}
    return {"sqlite": SHARED_OUT, "postgresql": [*SHARED_OUT, "--asking-the-database"]}


def needs_of(runs):
    """What the system has to bring for these runs."""
    benchmarks = any(LONG_RUNS["bench"] in words for words in runs.values())
    return [
        *system.FOR_TESTS,
        *(system.FOR_BENCHMARKS if benchmarks else ()),
        *(system.SERVER if "postgresql" in runs else ()),
    ]


def run(database, command):
    """Run the tests on this database: a file of their own, or a server of their own that ends with them."""
    if database == "sqlite":
        return wait_for(command, child_environment())
    with postgres.PrivateServer() as server:
        return wait_for(command, child_environment(DATABASE_URL=server.url))


def wait_for(command, environment):
    tests = subprocess.Popen(command, cwd=ROOT, env=environment)
    try:
        return tests.wait()
    except BaseException:
        tests.terminate()
        tests.wait()
        raise


def pytest_arguments(arguments):
    """What pytest is called with. Long runs print what they measured, so their output is shown."""
    if arguments[:1] and arguments[0] in LONG_RUNS:
        return [LONG_RUNS[arguments[0]], "-s", *arguments[1:]]
    if all(word.startswith("-") for word in arguments):
        return [*SHARED_OUT, *arguments]
    return list(arguments)
