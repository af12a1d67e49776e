"""Whether a file that is given out says what it is, so that no browser takes it for a page of the shop's own.

How files begin: ISO 32000-2, 7.5.2 (PDF); ISO/IEC 10918-1 (JPEG); ISO/IEC 15948 (PNG); APPNOTE 4.3.7 (ZIP); RFC 6350
(vCard); RFC 5545 (iCalendar).
"""

BEGINS = {
    b"%PDF-": "application/pdf", b"\xff\xd8\xff": "image/jpeg", b"\x89PNG": "image/png",
    b"PK\x03\x04": "application/zip", b"<?xml": "application/xml", b"\xef\xbb\xbf": "text/csv",
    b"BEGIN:VCARD": "text/vcard", b"BEGIN:VCALENDAR": "text/calendar",
}  # fmt: skip
SHOWN = {"application/pdf", "image/jpeg", "image/png", "text/calendar"}  # in the browser; all else is kept as a file
PAGES = {"text/html", "application/json"}


def wrong_with(answer, content):
    """What is wrong with how the answer is labelled: a list of words."""
    kind, placed = answer["Content-Type"].split(";")[0], answer.headers.get("Content-Disposition", "")
    meant = next((kind for start, kind in BEGINS.items() if content.startswith(start)), None)
    if meant and kind not in (meant, "image/svg+xml"):
        yield f"{meant} is called {kind}"
    if meant and meant not in SHOWN and not placed.startswith("attachment"):
        yield f"{meant} is shown rather than kept"
    if content and not meant and kind not in PAGES:
        yield f"{kind} begins with {content[:8]}"
    if answer.headers.get("X-Content-Type-Options") != "nosniff":
        yield "a browser may guess"
