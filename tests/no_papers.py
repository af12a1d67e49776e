"""For tests that look at no paper: none is set, which takes longest of all that a shop full of work needs."""

from shop.lib import pdf


def instead(patch):
    """Let every paper be an empty PDF, for as long as `patch`, a MonkeyPatch, lasts."""
    patch.setattr(pdf, "pdf_of", lambda *_, **__: b"%PDF-1.7\n%%EOF\n")
