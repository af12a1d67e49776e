"""Colours stay readable, by day and dim: ratios of WCAG 2.2, 1.4.3 (words, 4.5) and 1.4.11 (edges of controls, 3).

Luminance and ratio are the formulas of WCAG 2.2's definitions "relative luminance" and "contrast ratio", from memory;
the first test holds them against the ratios that are exact there: black on white 21, white on white 1.
"""

import re
from pathlib import Path

import pytest
from django.conf import settings

TOKENS = Path(settings.BASE_DIR, "static/css/tokens.css")
GROUNDS = ("paper", "sheet", "sunk", "brass-wash")
WORDS = [(words, ground) for words in ("ink", "soft", "brass", "brass-strong", "amiss", "fine") for ground in GROUNDS]
WORDS += [("ink", f"{verdict}-wash") for verdict in ("fine", "amiss", "close")]
WORDS += [(verdict, f"{verdict}-wash") for verdict in ("fine", "amiss", "close")]
WORDS += [("close", "paper"), ("close", "sheet"), ("on-brass", "brass"), ("on-brass", "brass-strong")]
WORDS += [("on-plate", "plate"), ("on-plate", "inlay"), ("paper", "ink")]
EDGES = [("line", ground) for ground in ("paper", "sheet", "sunk")] + [("brass", "paper"), ("brass", "sheet")]


def luminance(colour):
    parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def ratio(one, other):
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def colours(light):
    """{name: #rrggbb} of the tokens in that light; dim takes what it does not change from day."""
    blocks = re.findall(r"([^{}]+)\{([^{}]*)\}", TOKENS.read_text(encoding="utf-8"))
    found = [dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6});", block)) for _, block in blocks]
    return found[0] if light == "day" else found[0] | found[1]


def test_the_formula():
    assert ratio("#000000", "#ffffff") == pytest.approx(21)
    assert ratio("#ffffff", "#ffffff") == pytest.approx(1)


@pytest.mark.parametrize("light", ["day", "dim"])
@pytest.mark.parametrize(("pairs", "least"), [(WORDS, 4.5), (EDGES, 3)], ids=["words", "edges"])
def test_pairs_are_readable(light, pairs, least):
    named = colours(light)
    found = {(words, ground): round(ratio(named[words], named[ground]), 2) for words, ground in pairs}
    assert {pair: value for pair, value in found.items() if value < least} == {}


def test_dim_changes_every_colour_that_words_and_grounds_have():
    day, dim = colours("day"), colours("dim")
    kept = {name for name in day if day[name] == dim[name]}
    assert kept == {"on-plate"}
