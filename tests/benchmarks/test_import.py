"""How long the package takes to import once numpy is there."""

import subprocess
import sys
from pathlib import Path

from tests.benchmarks.clock import show

ROOT = Path(__file__).resolve().parents[2]
BUDGET_S = 0.2
MODULES = sorted(path.stem for path in (ROOT / "geometry").glob("*.py") if path.stem not in ("__init__", "apps"))
CODE = f"""
import time
import numpy
import dataclasses, enum, fractions, functools, math, re, types, typing
began = time.process_time()
import {", ".join(f"geometry.{name}" for name in MODULES)}
print(time.process_time() - began)
"""


def test_import_beyond_numpy():
    taken = []
    for _ in range(5):
        done = subprocess.run([sys.executable, "-c", CODE], cwd=ROOT, capture_output=True, text=True, check=True)
        taken.append(float(done.stdout))
    show(f"import of all {len(MODULES)} files of geometry beyond numpy: {min(taken):.3f} s of {BUDGET_S} s")
    assert min(taken) <= BUDGET_S
