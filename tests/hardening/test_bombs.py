"""A paper in which somebody hid what would fill the memory: that is left out, and the paper comes all the same."""

import base64
import resource

import pytest

from shop.lib import pdf
from tests.lib.test_images import png_of

MOST_KB = 400_000  # more than a paper ever takes, and far less than a picture of 60,000 × 60,000
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">{}</svg>'


def address(content, kind):
    return f"data:{kind};base64,{base64.b64encode(content).decode()}"


PICTURE = address(png_of(60_000, 60_000), "image/png")
ENTITIES = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10))
LAUGHS = f'<!DOCTYPE svg [<!ENTITY a0 "ha">{ENTITIES}]>' + SVG.format("<text>&a9;</text>")
WITHIN = SVG.format(f'<image href="{PICTURE}" width="9" height="9"/>')
BOMBS = {
    "picture": f'<img alt="x" src="{PICTURE}">',
    "background": f"<style>p {{ background: url({PICTURE}) }}</style>",
    "picture in a drawing": f'<img alt="x" src="{address(WITHIN.encode(), "image/svg+xml")}">',
    "entities": f'<img alt="x" src="{address(LAUGHS.encode(), "image/svg+xml")}">',
    "drawing within itself": SVG.format('<g id="a"><use href="#a"/></g>'),
    "sheets without end": '<style>@import "data:text/css,@import%20%22data:text/css,p%7B%7D%22;"</style>',
}


@pytest.mark.parametrize("markup", BOMBS.values(), ids=BOMBS)
def test_it_is_left_out(markup):
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    content = pdf.pdf_of(f"<html lang=en><title>x</title><p>Hello</p>{markup}</html>")
    assert content.startswith(b"%PDF")
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < MOST_KB
