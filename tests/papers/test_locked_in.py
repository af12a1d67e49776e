"""A paper loads nothing but what is offered to it, whatever is written in it."""

import io
import logging
import os
import subprocess
import sys

import pypdf
import pytest

from shop.lib import pdf
from tests.processes import ROOT

ENVIRONMENT = {**os.environ, "DJANGO_SETTINGS_MODULE": "shop.settings"}
SECRET = "do not print this"


@pytest.fixture
def secret(tmp_path):
    file = tmp_path / "secret.txt"
    file.write_text(SECRET)
    return file


@pytest.mark.parametrize(
    "markup",
    [
        '<img src="file://{path}">',
        '<link rel="attachment" href="file://{path}">',
        '<a rel="attachment" href="file://{path}">x</a>',
        '<link rel="stylesheet" href="file://{path}">',
        "<style>@import 'file://{path}'; p {{ background: url(file://{path}) }}</style>",
        '<object data="file://{path}"></object>',
        '<svg xmlns="http://www.w3.org/2000/svg"><image href="file://{path}" width="9" height="9"/></svg>',
        '<img src="http://127.0.0.1:9/x.png">',
        '<img src="ftp://127.0.0.1/x.png">',
        '<img src="app://static/../shop/settings.py">',
        '<link rel="attachment" href="app://static/%2e%2e/shop/settings.py">',
        '<link rel="attachment" href="app://order/other.jpg">',
        '<link rel="attachment" href="{path}">',
    ],
)
def test_no_file_and_no_network(secret, markup, monkeypatch, caplog):
    monkeypatch.setattr("socket.socket.connect", lambda *_: pytest.fail("it reached for the network"))
    with caplog.at_level(logging.CRITICAL, logger="weasyprint"):
        content = pdf.pdf_of(f"<title>x</title><p>Hello</p>{markup.format(path=secret)}", files={"own.jpg": b"x"})
    reader = pypdf.PdfReader(io.BytesIO(content))
    assert not reader.attachments
    assert SECRET.encode() not in content
    assert b"SECRET_KEY" not in content


def test_what_is_handed_in_is_shown():
    # The smallest GIF there is: one pixel.
    pixel = bytes.fromhex("47494638396101000100800000ff000000000021f90400000000002c00000000010001000002024401003b")
    content = pdf.pdf_of('<title>x</title><img alt="p" src="app://order/own.gif">', files={"own.gif": pixel})
    assert list(pypdf.PdfReader(io.BytesIO(content)).pages[0].images)


def test_a_file_can_be_embedded():
    attached = pdf.Attached("lines.xml", b"<lines/>", description="The lines", relationship="Data")
    content = pdf.pdf_of("<title>x</title><p>Hello</p>", attachments=[attached], variant="pdf/a-3b")
    assert pypdf.PdfReader(io.BytesIO(content)).attachments == {"lines.xml": [b"<lines/>"]}


def test_tokens_are_those_of_the_screens():
    tokens = pdf._tokens()
    assert tokens["ink"].startswith("#")
    assert "var(" not in tokens["ink"]


def test_without_pango_the_reason_is_a_sentence():
    """In a process of its own: the library cannot be loaded twice."""
    code = """
import sys

class Missing:
    def find_spec(self, name, *_):
        if name.startswith("weasyprint"):
            raise OSError("cannot load library 'libpango-1.0-0'")

sys.meta_path.insert(0, Missing())
from shop.lib import pdf
try:
    pdf.pdf_of("<p>x</p>")
except pdf.PdfUnavailable as problem:
    print(problem)
"""
    run = [sys.executable, "-c", code]
    said = subprocess.run(run, cwd=ROOT, env=ENVIRONMENT, capture_output=True, text=True, check=True).stdout
    assert "install libpangoft2-1.0-0 and libharfbuzz-subset0" in said
