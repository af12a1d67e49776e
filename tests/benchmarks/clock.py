"""Processor time, so that other work on the machine counts as little as can be, and lines that are seen."""

import sys
import time


def seconds(function, rounds):
    """Best of some rounds; nothing a machine does makes code faster than it is."""
    best = float("inf")
    for _ in range(rounds):
        began = time.process_time()
        function()
        best = min(best, time.process_time() - began)
    return best


def show(line):
    sys.stdout.write(f"\n{line}")
