"""`python -m tests.load`: builds a workshop of hundreds of thousands of orders to measure in."""

import argparse
import os
import time

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
django.setup()

from tests.load.big_shop import build  # noqa: E402 (models need the settings)

parser = argparse.ArgumentParser(prog="python -m tests.load", description=__doc__)
parser.add_argument("--orders", type=int, default=500_000)
parser.add_argument("--customers", type=int, default=200_000)
asked = parser.parse_args()
began = time.monotonic()
for name, rows in build(orders=asked.orders, customers=asked.customers, say=print).items():
    print(f"{name:16} {rows:>10}")
print(f"{time.monotonic() - began:.0f} s")
