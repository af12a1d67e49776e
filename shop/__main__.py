"""`python3 -m shop`: everything from a bare machine to the running workshop, in one command."""

import sys

from shop.ground.oldest import refuse_old_python

refuse_old_python("shop")

from shop.ground.start import main  # noqa: E402 (an older Python could not read it)

sys.exit(main())
