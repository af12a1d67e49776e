"""What each role may do. One table; every view asks it through `access.may`."""

from django.db import models


class Role(models.TextChoices):
    COUNTER = "counter", "Counter"
    BENCH = "bench", "Bench"
    OWNER = "owner", "Owner"


# A capability is what a page or an action needs, in the words of the work.
COUNTER = frozenset(
    {
        "see orders",
        "see customers",
        "edit customers",
        "edit instruments",
        "book in",
        "move orders",
        "edit lines",
        "see worksheets",
        "see money",
        "bill",
        "take payment",
        "hand over",
        "see mail",
        "see prices",
        "move stock",
        "move branches",
    }
)
BENCH = frozenset(
    {
        "see orders",
        "see customers",
        "edit instruments",
        "move orders",
        "edit lines",
        "see worksheets",
        "work worksheets",
        "sign worksheets",
        "see prices",
        "move stock",
    }
)
OWNER = COUNTER | BENCH | {"edit prices", "edit profiles", "edit workshop", "edit staff", "see figures", "export"}

CAPABILITIES = {Role.COUNTER: COUNTER, Role.BENCH: BENCH, Role.OWNER: OWNER}
EVERY_CAPABILITY = OWNER
