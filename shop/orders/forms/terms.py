"""The terms under which a visit's instruments are left, and the signature under them."""

import base64
import hashlib
from io import BytesIO

from django import forms

from shop.lib.images import ImageRefused, drawing

SIGNATURE_START = "data:image/png;base64,"
LONGEST_SIGNATURE = 300_000


class TermsForm(forms.Form):
    """One text and one signature for all that is brought in a visit; the text names each instrument.

    `named` is what the page had named to the customer; the names as they stand must be the same.
    """

    read = forms.BooleanField(label="The customer has read the terms and accepts them", required=False)
    key = forms.CharField(required=False, widget=forms.HiddenInput)
    named = forms.CharField(required=False, max_length=2000, widget=forms.HiddenInput)
    signature = forms.CharField(required=False, max_length=LONGEST_SIGNATURE, widget=forms.HiddenInput)

    def __init__(self, *args, terms, names, **kwargs):
        super().__init__(*args, prefix="terms", **kwargs)
        self.terms, self.names = terms, names

    @property
    def key_now(self):
        """What the page carries: also a page that is shown again, after the terms were changed."""
        return terms_key(self.terms)

    @property
    def named_now(self):
        return names_key(self.names)

    def clean_signature(self):
        text = self.cleaned_data["signature"]
        if not text:
            return b""
        try:
            content = base64.b64decode(text.removeprefix(SIGNATURE_START), validate=True)
            file = BytesIO(content)
            file.size = len(content)
        except ValueError:  # letters that are none of base64, or are not even ASCII
            raise forms.ValidationError("The signature did not arrive whole; sign again.") from None
        try:
            return drawing(file)
        except ImageRefused:
            raise forms.ValidationError("The signature did not arrive whole; sign again.") from None

    def clean(self):
        read = super().clean()
        if read.get("read") and read.get("key") != self.key_now:
            self.add_error("read", "The terms were changed meanwhile; let the customer read them again.")
        elif read.get("read") and len(self.names) > 1 and read.get("named") != self.named_now:
            self.add_error("read", "The instruments changed since they were named here; let the customer read them.")
        if read.get("signature") and not read.get("read"):
            self.add_error("read", "A signature stands under the terms: tick that they were read.")
        return read

    @property
    def accepted(self):
        """(the exact text, the signature) of a valid form; nothing where nothing was ticked."""
        read = self.cleaned_data
        return (accepted_text(self.terms, self.names) if read["read"] else "", read["signature"])


def accepted_text(terms, names):
    """What is signed: the terms, and before them the instruments they are for, where there are several."""
    if not terms or len(names) < 2:
        return terms
    listed = "\n".join(f"{number}. {name}" for number, name in enumerate(names, start=1))
    return f"For all of these instruments:\n{listed}\n\n{terms}"


def terms_key(terms):
    """A short text that changes with the terms."""
    return hashlib.sha256(terms.encode()).hexdigest()[:16] if terms else ""


def names_key(names):
    """A short text that changes with the instruments that are named."""
    return hashlib.sha256("\n".join(names).encode()).hexdigest()[:16]
