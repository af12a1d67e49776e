"""`python3 -m tests`: prepares the environment for tests and turns into pytest."""

import os

from shop.ground import env_file, environment, system
from shop.ground.places import ROOT, child_environment
from shop.ground.start import Stopped, listen_to_signals
from shop.ground.words import Trouble, complain, say, sentence_for

BENCHMARKS = "tests/benchmarks"


def main(arguments):
    """Run pytest with these arguments; does not come back unless the environment could not be made."""
    listen_to_signals()
    try:
        python = environment.see_to(ROOT / "tests" / "requirements.txt", system.FOR_TESTS)
    except Stopped:
        say("Stopped.")
    except (Trouble, env_file.EnvFileError) as trouble:
        complain(trouble)
    except OSError as error:
        complain(sentence_for(error))
    else:
        os.chdir(ROOT)
        os.execve(python, [str(python), "-m", "pytest", *pytest_arguments(arguments)], child_environment())
    return 1


def pytest_arguments(arguments):
    """What pytest is called with. The benchmarks print what they measured, so their output is shown."""
    if arguments[:1] == ["bench"]:
        return [BENCHMARKS, "-s", *arguments[1:]]
    return list(arguments)
