"""The counter's form: who, what, what is wrong, how it came, what is to be done, and for when."""

import base64
import binascii
import hashlib
import uuid
from functools import cached_property
from io import BytesIO

from django import forms

from shop.instruments.forms import WHAT_IT_IS, InstrumentForm
from shop.lib.dates import is_believable_promise, today
from shop.lib.images import ImageRefused, drawing
from shop.lib.keys import keys_of
from shop.orders.forms.fields import DayInput, PhotosField
from shop.orders.forms.lines import MOST_LINES, FreeLinesForm
from shop.orders.forms.marks import MarksForm
from shop.orders.models import Priority, WorkOrder
from shop.orders.services import Booking, NewLine
from shop.people.forms import CustomerForm
from shop.stock.models import PriceItem

SIGNATURE_START = "data:image/png;base64,"
LONGEST_SIGNATURE = 300_000
PARTS = ("who", "what", "job", "lines", "marks")


class NewCustomerForm(CustomerForm):
    """What the counter asks of somebody who was never here; the rest can wait."""

    class Meta(CustomerForm.Meta):
        fields = ["name", "phone", "email", "company"]

    def clean(self):
        read = super().clean()
        if not (read.get("phone") or read.get("email") or {"phone", "email"} & set(self.errors)):
            self.add_error("phone", "Write a telephone number or an e-mail address, to say when it is ready.")
        return read


class NewInstrumentForm(InstrumentForm):
    class Meta(InstrumentForm.Meta):
        fields = [*WHAT_IT_IS, "colour", "hand"]


class ItemsField(forms.ModelMultipleChoiceField):
    """Items of the price list; what can be no item's key is refused like one that is not sold."""

    def _check_values(self, value):
        if len(keys_of(value)) != len(value):
            raise forms.ValidationError("Choose items of the price list only.")
        return super()._check_values(value)


class JobForm(forms.ModelForm):
    """The order itself."""

    draft_key = forms.UUIDField(widget=forms.HiddenInput)
    items = ItemsField(PriceItem.objects.none(), required=False)
    agreed = forms.BooleanField(label="The customer agrees to these lines now", required=False)
    terms_read = forms.BooleanField(label="The customer has read the terms and accepts them", required=False)
    terms_key = forms.CharField(required=False, widget=forms.HiddenInput)
    signature = forms.CharField(required=False, max_length=LONGEST_SIGNATURE, widget=forms.HiddenInput)
    photos = PhotosField(label="photographs")

    class Meta:
        model = WorkOrder
        fields = ["complaint", "condition", "came_with", "bench_note", "priority", "promised_on", "rack_slot"]
        widgets = {
            "complaint": forms.Textarea({"rows": 4}),
            "condition": forms.Textarea({"rows": 3}),
            "came_with": forms.Textarea({"rows": 2}),
            "bench_note": forms.Textarea({"rows": 2}),
            "promised_on": DayInput(),
            "rack_slot": forms.TextInput({"list": "rack-slots", "autocomplete": "off"}),
        }

    def __init__(self, *args, workshop, **kwargs):
        super().__init__(*args, **kwargs)
        self.workshop = workshop
        self.fields["items"].queryset = PriceItem.objects.offered()

    def clean_promised_on(self):
        day = self.cleaned_data["promised_on"]
        if day and not is_believable_promise(day, now=today()):
            raise forms.ValidationError("Promise a day from today on, within two years.")
        return day

    def clean_signature(self):
        text = self.cleaned_data["signature"]
        if not text:
            return b""
        try:
            content = base64.b64decode(text.removeprefix(SIGNATURE_START), validate=True)
            file = BytesIO(content)
            file.size = len(content)
        except (AttributeError, binascii.Error):
            raise forms.ValidationError("The signature did not arrive whole; sign again.") from None
        try:
            return drawing(file)
        except ImageRefused:
            raise forms.ValidationError("The signature did not arrive whole; sign again.") from None

    def clean(self):
        read = super().clean()
        if read.get("priority") == Priority.STAGE and not read.get("promised_on") and "promised_on" not in self.errors:
            self.add_error("promised_on", "It is needed on a date: write which.")
        if read.get("terms_read") and read.get("terms_key") != terms_key(self.workshop.intake_terms):
            self.add_error("terms_read", "The terms were changed meanwhile; let the customer read them again.")
        if read.get("signature") and not read.get("terms_read"):
            self.add_error("terms_read", "A signature stands under the terms: tick that they were read.")
        return read


class BookInForm:
    """The forms of one book-in together. A known customer or instrument takes the place of its form."""

    def __init__(self, workshop, *, data=None, files=None, customer=None, instrument=None, initial=None, carried=None):
        initial = initial or {}
        self.carried = carried  # what the bench carries, where it is known already
        self.workshop, self.customer, self.instrument = workshop, customer, instrument
        self.is_bound = data is not None
        self.who = None if customer else NewCustomerForm(data, prefix="customer", initial=initial.get("who"))
        self.what = None if instrument else NewInstrumentForm(data, prefix="instrument", initial=initial.get("what"))
        start = {"draft_key": uuid.uuid4(), "terms_key": terms_key(workshop.intake_terms)} | initial.get("job", {})
        self.job = JobForm(data, files, prefix="job", initial=start, workshop=workshop)
        self.lines = FreeLinesForm(data, prefix="lines")
        self.marks = MarksForm(data, prefix="marks")

    @property
    def parts(self):
        return [part for part in (getattr(self, name) for name in PARTS) if part is not None]

    def is_valid(self):
        return all(part.is_valid() for part in self.parts)

    @cached_property
    def new_lines(self):
        picked = [NewLine.of(item) for item in self.job.cleaned_data["items"].as_listed()[:MOST_LINES]]
        return (*picked, *self.lines.new_lines(self.workshop.tax_rate))

    def booking(self):
        """The Booking that a valid form says."""
        job = self.job.cleaned_data
        instrument = self.instrument or self.what.instance
        own = ("complaint", "condition", "came_with", "bench_note", "priority", "promised_on", "rack_slot", "draft_key")
        return Booking(
            customer=self.customer or self.who.instance, instrument=instrument, lines=self.new_lines,
            agreed=job["agreed"], marks=self.marks.marks(instrument.hand), signature=job["signature"],
            intake_terms=self.workshop.intake_terms if job["terms_read"] else "",
            **{name: job[name] for name in own},
        )  # fmt: skip


def terms_key(terms):
    """A short text that changes with the terms."""
    return hashlib.sha256(terms.encode()).hexdigest()[:16] if terms else ""
