"""`.venv/bin/python -m tests.pins [NAME …]` writes beneath each pin the checksums of every file of that release.

Pins that have none get theirs, and those that are named get them anew; the registry is asked by pip-tools, in an
environment that is thrown away. Wheels for other machines are among them, so that one list serves all.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FILES = (ROOT / "requirements.txt", ROOT / "tests" / "requirements.txt")
ASKS = "pip-tools==7.6.2"
PIN = re.compile(r"^(?P<name>[\w.-]+)(\[[\w,-]+\])?==(?P<version>[^\s;\\]+)", re.MULTILINE)
SUM = re.compile(r"--hash=\S+")


def pins_in(text):
    """[(name, the pin itself, its checksums)] of a requirements file."""
    whole = text.replace("\\\n", " ")
    return [(tidy(found["name"]), found[0], SUM.findall(line))
            for line in whole.splitlines() if (found := PIN.match(line))]  # fmt: skip


def tidy(name):
    """A package's name as all ways to write it come to."""
    return re.sub(r"[-_.]+", "-", name).lower()


def with_sums(text, sums):
    """`text` with the checksums that `sums` knows, by name, beneath their pins; comments and order stay."""
    lines = []
    for line in text.replace("\\\n", " ").splitlines():
        found = PIN.match(line)
        known = sums.get(tidy(found["name"]), SUM.findall(line)) if found else ()
        lines.append(" \\\n".join([found[0], *(f"    {one}" for one in known)]) if found else line)
    return "\n".join(lines) + "\n"


def asked(pins):
    """{name: checksums of all files of its release} for these pins, from the registry that pip is set to."""
    with tempfile.TemporaryDirectory() as folder:
        wanted, answer = Path(folder, "wanted.in"), Path(folder, "answer.txt")
        wanted.write_text("\n".join(pins) + "\n", encoding="utf-8")
        run(sys.executable, "-m", "venv", Path(folder, "own"))
        own = Path(folder, "own", "bin", "python")
        run(own, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", ASKS)
        run(own, "-m", "piptools", "compile", "--generate-hashes", "--no-annotate", "--no-header", "--allow-unsafe",
            "--strip-extras", "--quiet", "--output-file", answer, wanted)  # fmt: skip
        return {name: sums for name, _, sums in pins_in(answer.read_text(encoding="utf-8"))}


def run(*command):
    subprocess.run(list(map(str, command)), check=True)


def main(names):
    named = set(map(tidy, names))
    texts = {path: path.read_text(encoding="utf-8") for path in FILES}
    every = [pin for text in texts.values() for pin in pins_in(text)]
    lacking = [pin for name, pin, sums in every if not sums or name in named]
    sums = asked(lacking) if lacking else {}
    known = {name: one for name, _, one in every}
    for path, text in texts.items():
        mine = {name: sums[name] for name, pin, _ in pins_in(text) if pin in lacking and name in sums}
        path.write_text(with_sums(text, mine), encoding="utf-8")
    left = [pin for name, pin, _ in every if not (sums.get(name) or known[name])]
    sys.stdout.write(f"{len(lacking)} pins asked for, {len(left)} left without checksums {' '.join(left)}\n")
    return 1 if left else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
