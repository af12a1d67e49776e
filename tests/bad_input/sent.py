"""How many bad inputs this process has sent, by the name of the address."""

from collections import Counter

SENT = Counter()
