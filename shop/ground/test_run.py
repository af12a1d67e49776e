"""`python3 -m tests`: prepares the environment for tests and turns into pytest."""

import os
import subprocess

from shop.ground import env_file, environment, postgres, system
from shop.ground.places import ROOT, child_environment
from shop.ground.start import Stopped, listen_to_signals
from shop.ground.words import Trouble, complain, say, sentence_for

# What is asked for by its name, and prints what it measured.
LONG_RUNS = {"bench": "tests/benchmarks", "load": "tests/load", "faults": "tests/faults"}
DATABASES = ("sqlite", "postgresql")
USE = f"--database is followed by one of {', '.join(DATABASES)}."


def main(arguments):
    """Run pytest with these arguments and return its exit code."""
    listen_to_signals()
    try:
        database, arguments = chosen_database(list(arguments))
        needs = [*system.FOR_TESTS, *(system.SERVER if database == "postgresql" else ())]
        python = environment.see_to(ROOT / "tests" / "requirements.txt", needs)
        os.chdir(ROOT)
        command = [str(python), "-m", "pytest", *pytest_arguments(arguments)]
        if database == "postgresql":
            return run_on_server(command)
    except Stopped:
        say("Stopped.")
    except (Trouble, env_file.EnvFileError) as trouble:
        complain(trouble)
    except OSError as error:
        complain(sentence_for(error))
    else:
        os.execve(python, command, child_environment())
    return 1


def chosen_database(arguments):
    """The database asked for by `--database NAME` or `--database=NAME`, and the arguments without it."""
    for place, word in enumerate(arguments):
        option, equals, name = word.partition("=")
        if option != "--database":
            continue
        rest = arguments[place + 1 :]
        name = name if equals else "".join(rest[:1])
        if name not in DATABASES:
            raise Trouble(USE)
        return name, [*arguments[:place], *rest[0 if equals else 1 :]]
    return DATABASES[0], arguments


def run_on_server(command):
    """Run the tests with a PostgreSQL server of their own, which ends with them."""
    with postgres.PrivateServer() as server:
        tests = subprocess.Popen(command, env=child_environment(DATABASE_URL=server.url))
        try:
            return tests.wait()
        except BaseException:
            tests.terminate()
            tests.wait()
            raise


def pytest_arguments(arguments):
    """What pytest is called with. Long runs print what they measured, so their output is shown.

    All the tests at once are shared out to as many processes as the machine has processors, four at
    most: each has a database and a browser of its own.
    """
    if arguments[:1] and arguments[0] in LONG_RUNS:
        return [LONG_RUNS[arguments[0]], "-s", *arguments[1:]]
    if not arguments:
        return ["-n", str(min(os.cpu_count() or 1, 4)), "--dist", "worksteal"]
    return list(arguments)
