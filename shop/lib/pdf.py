"""The one place that makes PDFs.

Style sheets and fonts are read once and kept, since reading them is half the work of a page; one lock, because
rendering is bound to the processor and threads beside each other only slow it down. A paper may load files of
`static/` (as `app://static/…`) and those handed in with it (as `app://order/…`), and nothing else: no network, no
other file of this machine. A letter that no font can show is named in its place (lib/letters.py).
"""

import functools
import mimetypes
import re
import threading
import types
import urllib.parse
from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from django.conf import settings
from django.template.loader import render_to_string

from shop.lib import letters

STATIC = Path(settings.BASE_DIR, "static").resolve()
TOKEN = re.compile(r"var\(--([a-z0-9-]+)\)")
PHOTO_DPI = 150  # sharp on paper, and a photograph of some megabytes becomes some ten kilobytes
LOCK = threading.Lock()


class PdfUnavailable(RuntimeError):
    """PDFs cannot be made on this machine; the message says what to install."""


@dataclass(frozen=True)
class Attached:
    """A file embedded in a PDF."""

    name: str
    data: bytes
    description: str = ""
    relationship: str = "Unspecified"  # as ISO 32000-2, 7.11.3 names it


def render_pdf(template_name, context, *, css=(), files=None, variant="pdf/ua-1", attachments=(), described=b""):
    """The template as a PDF, in bytes. Its `<title>` and `lang` become the PDF's.

    css: paths under static/, such as "css/paper.css", later ones winning.
    files: name → bytes or path, for `app://order/<name>` in the template.
    variant: such as "pdf/ua-1" (tagged for screen readers) or "pdf/a-3b"; None for a plain PDF.
    attachments: `Attached` files to embed.
    described: rdf:Description elements to stand among the PDF's metadata, in bytes.
    Raises PdfUnavailable where the system's text libraries are missing.
    """
    return pdf_of(
        render_to_string(template_name, context),
        css=css, files=files, variant=variant, attachments=attachments, described=described,
    )  # fmt: skip


def pdf_of(markup, *, css=(), files=None, variant="pdf/ua-1", attachments=(), described=b""):
    """A PDF of HTML that is already rendered; otherwise as `render_pdf`."""
    with LOCK:
        engine = _engine()
        sheets = [_style_sheet(path) for path in css]  # before the letters are looked at: they bring the faces
        markup = letters.named(markup, can_show)
        page = engine.html(string=markup, base_url="app://order/", url_fetcher=engine.fetcher(files or {}))
        return page.write_pdf(
            stylesheets=sheets,
            font_config=engine.fonts,
            pdf_variant=variant,
            dpi=PHOTO_DPI,
            attachments=[engine.attachment(one) for one in attachments],
            finisher=lambda document, pdf: _finish(pdf, described),
        )


def _finish(pdf, described):
    """What the library leaves to be done: it names each attachment twice, and has no place for metadata of others.

    ISO 19005-3 wants one rdf:RDF, so what is `described` goes into the one that is there.
    """
    if "AF" in pdf.catalog:
        pdf.catalog["AF"][:] = dict.fromkeys(pdf.catalog["AF"])
    if described:
        metadata = next(one for one in pdf.objects if getattr(one, "extra", {}).get("Type") == "/Metadata")
        metadata.stream = [part.replace(b"</rdf:RDF>", described + b"</rdf:RDF>") for part in metadata.stream]


def attached(content, name):
    """The file `name` that a PDF carries, in bytes; None when it carries none of that name, or is no PDF at all."""
    import pypdf  # noqa: PLC0415 (takes a fifth of a second, and is seldom wanted)

    try:
        found = pypdf.PdfReader(BytesIO(content)).attachments.get(name)
    except pypdf.errors.PyPdfError:
        return None
    return found[0] if found else None


def warm_up(css):
    """Load the library, its fonts and the style sheets, so that the first paper is no slower than the others."""
    pdf_of("<html lang=en><title>.</title><p>Ready <b>now</b> <i>1</i></p></html>", css=css)


def _library():
    """The library, loaded when the first paper is wanted: the rest of the app runs without Pango."""
    try:
        import weasyprint  # noqa: PLC0415
        from weasyprint.text import ffi, fonts  # noqa: PLC0415
    except OSError as error:
        raise PdfUnavailable(
            "Papers need Pango and HarfBuzz: install libpangoft2-1.0-0 and libharfbuzz-subset0, then start again."
        ) from error
    ffi.ffi.cdef("int pango_layout_get_unknown_glyphs_count(PangoLayout *layout);")  # Pango 1.16
    return weasyprint, fonts.FontConfiguration(), ffi


@functools.cache
def _engine():
    """What a paper is made with, with one set of fonts for all papers."""
    weasyprint, font_configuration, text = _library()

    class Fetcher(weasyprint.urls.URLFetcher):
        """Answers app: addresses itself and lets data: through. Everything else is refused."""

        def __init__(self, files: Mapping):
            super().__init__(allowed_protocols={"data"}, allow_redirects=False)
            self.files = files

        def fetch(self, url, headers=None):
            if not url.startswith("app://"):
                return super().fetch(url, headers)
            kind = mimetypes.guess_type(url)[0] or "application/octet-stream"
            return weasyprint.urls.URLFetcherResponse(url, _read(url, self.files), {"Content-Type": kind})

    def attachment(one):
        return weasyprint.Attachment(
            file_obj=BytesIO(one.data), name=one.name, description=one.description, relationship=one.relationship
        )

    return types.SimpleNamespace(
        html=weasyprint.HTML,
        css=weasyprint.CSS,
        fonts=font_configuration,
        fetcher=Fetcher,
        attachment=attachment,
        text=text,
    )


@functools.cache
def can_show(letter):
    """Whether the papers' own faces or any font of this machine can show `letter`. Raises PdfUnavailable."""
    engine = _engine()
    pango, unref, written = engine.text.pango, engine.text.gobject.g_object_unref, letter.encode()
    context = pango.pango_font_map_create_context(engine.fonts.font_map)
    layout = pango.pango_layout_new(context)
    pango.pango_layout_set_text(layout, written, len(written))
    missing = pango.pango_layout_get_unknown_glyphs_count(layout)
    unref(layout)
    unref(context)
    return not missing


@functools.cache
def _style_sheet(path):
    """A style sheet of static/, with the design's tokens put in here once instead of being looked up per element."""
    engine = _engine()
    text = TOKEN.sub(lambda found: _tokens()[found[1]], (STATIC / path).read_text(encoding="utf-8"))
    return engine.css(
        string=text, base_url=f"app://static/{path}", url_fetcher=engine.fetcher({}), font_config=engine.fonts
    )


@functools.cache
def _tokens():
    """The values that tokens.css gives its names in daylight, which is what paper is read in; papers' own faces."""
    found = {}
    for name in ("tokens", "paper-fonts"):
        text = (STATIC / f"css/{name}.css").read_text(encoding="utf-8")
        root = text[text.index(":root {") :].partition("}")[0]
        found |= {name: value.strip() for name, value in re.findall(r"--([a-z0-9-]+):\s*([^;]+);", root)}
    return found


def _read(url, files):
    """The bytes behind an app: address. Raises FileNotFoundError for all that is not offered."""
    place, _, name = urllib.parse.unquote(url.removeprefix("app://").split("?")[0].split("#")[0]).partition("/")
    if place == "static":
        path = (STATIC / name).resolve()
        if path.is_relative_to(STATIC) and path.is_file():
            return path.read_bytes()
    elif place == "order" and name in files:
        found = files[name]
        return found if isinstance(found, bytes) else Path(found).read_bytes()
    raise FileNotFoundError(f"{url} is not offered to papers.")
