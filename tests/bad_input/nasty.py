"""What nobody should ever send: wrong types, edges of dates and numbers, text that is no text."""

from hypothesis import strategies as st

from tests.hardening import probes

EDGES = [
    "", " ", "\x00", "a\x00b", "\x1b[31m\x07\x7f", "\r\n\r\nSet-Cookie: a=b", "\u202eright to left\u202c",
    "\ufeff", "\u2028",
    "شراء", "🎸" * 40, "👩🏽‍🔧", "Z̷̡͍̈́a̵l̶g̸o̷" * 9, "\ud800", "ﬃ", "İ", "ß" * 200, "null", "None", "undefined", "true",
    "[]",
    "{}", "NaN", "-nan", "inf", "-Infinity", "1e999", "-1e999", "1e-999", "0x1f", "1_000", "１２", "٣", "½", "-0",
    "--1",
    "+", "0", "-1", "00", "1.", ".5", "1,5", "1.005", "9" * 30, "9" * 400, "-" + "9" * 30, "2147483648",
    "9223372036854775807", "9223372036854775808", "0001-01-01", "9999-12-31", "10000-01-01", "2026-02-30", "0000-00-00",
    "2024-02-29", "1900-02-29", "31/12/2026", "2026-11-25T10:00:00Z", "4/0", "64/0", "1/1e9", "0/64", "-4/64",
    "4/64/64",
    "<script>alert(1)</script>", "\"'><img src=x onerror=alert(1)>", "{{ 7|add:7 }}", "{% debug %}", "' OR 1=1 --",
    "=cmd|' /C calc'!A0", "../../../etc/passwd", "javascript:alert(1)", "%00", "%n%s", "a@b", "a@b.test\nBcc: c@d.test",
    "x" * 300, "y" * 5000, "z" * 70_000, "-", "on", "00000000-0000-0000-0000-000000000000",
    "data:image/png;base64,AAAA", *(form.format(name="x") for form in probes.FORMS),
]  # fmt: skip

anything = st.one_of(
    st.sampled_from(EDGES),
    st.text(max_size=60),
    st.floats().map(str),
    st.integers(-(10**20), 10**20).map(str),
    st.dates().map(str),
    st.decimals(allow_nan=True).map(str),
    st.binary(max_size=30).map(lambda some: some.decode("latin-1")),
)
values = st.one_of(st.lists(anything, min_size=1, max_size=1), st.lists(anything, max_size=3))


def changes(names):
    """{field: values} for one to three of these fields; an empty list leaves the field out."""
    return st.dictionaries(st.sampled_from(names), values, min_size=1, max_size=min(3, len(names)))


def sendable(text):
    """`text` as it can travel: half a surrogate pair goes as the byte soup that a broken client would send."""
    return text.encode("utf-8", "surrogatepass")
