"""`python3 -m tests`: the environment for tests, made as the shop makes its own, and then all tests in it.

Arguments go on to pytest; `python3 -m tests bench` runs the benchmarks.
"""

import sys

from shop.ground.oldest import refuse_old_python

refuse_old_python("tests")

from shop.ground.test_run import main  # noqa: E402 (an older Python could not read it)

sys.exit(main(sys.argv[1:]))
