"""All checks of one worksheet, and of a hundred thousand against a plain Python loop over the same formulas."""

import statistics
import tracemalloc
from dataclasses import fields, is_dataclass

import numpy as np

from geometry.checks import check_sheets
from tests import geometry_cast as cast
from tests.benchmarks.clock import seconds, show
from tests.benchmarks.plain_sheet import check_sheet
from tests.benchmarks.worksheets import differences, given, plain

ONE_MS = 2.0
FASTER = 50.0
SAME = 1e-9
MANY, SAMPLE = 100_000, 2_000
BESIDE_MB = 60.0


def leaves(record):
    """Every array of an answer."""
    for one in fields(record):
        value = getattr(record, one.name)
        yield from leaves(value) if is_dataclass(value) else (value,)


def first(record, count):
    """The first so many worksheets of an answer."""
    return type(record)(**{
        one.name: first(value, count) if is_dataclass(value) else value[:count]
        for one in fields(record)
        for value in (getattr(record, one.name),)
    })  # fmt: skip


def test_one_worksheet():
    sheet = (cast.readings(), cast.record(), cast.targets(), cast.standards())
    rounds = []
    for _ in range(8):
        times = [seconds(lambda: check_sheets(*sheet), 1) for _ in range(60)]
        rounds.append(1e3 * statistics.median(times))
    show(f"all checks of one six-string worksheet: {min(rounds):.2f} ms of {ONE_MS} ms")
    assert min(rounds) <= ONE_MS


def test_a_hundred_thousand_worksheets_against_a_plain_loop():
    """The loop does what the package does, argument checks and all, in plain Python (`plain_sheet`). It is timed on the
    first 2,000 of the same worksheets: its time is in proportion to their number."""
    arguments = given(MANY)
    sheets = plain(*(first_of(one) for one in arguments))
    answers, found = [], None

    def loop():
        answers[:] = [check_sheet(one) for one in sheets]

    def at_once():
        nonlocal found
        found = check_sheets(*arguments)

    slow, fast = seconds(loop, 3) / SAMPLE, seconds(at_once, 3) / MANY
    apart = differences(first(found, SAMPLE), answers)
    worst = max(apart, key=apart.get)
    times = slow / fast
    show(f"a worksheet: {1e6 * slow:.0f} µs by the loop, {1e6 * fast:.1f} µs of {MANY:,} at once: {times:.0f} times")
    show(f"{len(apart)} kinds of numbers agree; furthest apart: {worst}, {apart[worst]:.1e}")
    assert apart[worst] <= SAME
    assert times >= FASTER


def first_of(record):
    """The first worksheets of an argument: arrays that have an axis for worksheets, cut."""
    if not is_dataclass(record):
        return record
    values = {one.name: getattr(record, one.name) for one in fields(record)}
    return type(record)(**{
        name: first_of(value) if is_dataclass(value) else value[:SAMPLE] if value.shape[:1] == (MANY,) else value
        for name, value in values.items()
    })  # fmt: skip


def megabytes_beside_the_answer(count):
    """Most memory held at any time in one call, less the answer's own."""
    arguments = given(count)
    tracemalloc.start()
    before, _ = tracemalloc.get_traced_memory()
    answer = check_sheets(*arguments)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return (most - before - sum(one.nbytes for one in leaves(answer))) / 1e6


def test_memory_is_bounded():
    """What is held beside arguments and answer does not grow with the number of worksheets."""
    few, many = megabytes_beside_the_answer(10_000), megabytes_beside_the_answer(MANY)
    show(f"memory beside the answer: {few:.0f} MB for 10,000 worksheets, {many:.0f} MB for {MANY:,}")
    assert many <= BESIDE_MB
    assert many <= 1.2 * few + 1.0


def test_chunks_do_not_change_the_answer():
    arguments = given(3_000, seed=5)
    pairs = zip(*(leaves(check_sheets(*arguments, chunk=one)) for one in (3_000, 700)), strict=True)
    assert all(np.array_equal(whole, cut, equal_nan=True) for whole, cut in pairs)
