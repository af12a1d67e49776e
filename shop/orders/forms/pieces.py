"""One instrument of a visit: what it is, what is wrong, how it came, what is to be done, and for when."""

import uuid

from django import forms

from shop.instruments.forms import WHAT_IT_IS, InstrumentForm
from shop.lib.keys import RowsField
from shop.orders.forms.fields import PhotosField, PromiseField
from shop.orders.forms.lines import MOST_LINES, FreeLinesForm
from shop.orders.forms.marks import MarksForm
from shop.orders.models import Priority, WorkOrder
from shop.orders.services import Booking, NewLine
from shop.stock.models import PriceItem

MOST_TOGETHER = 6
PARTS = ("what", "job", "lines", "marks")


class NewInstrumentForm(InstrumentForm):
    class Meta(InstrumentForm.Meta):
        fields = [*WHAT_IT_IS, "colour", "hand"]


class JobForm(forms.ModelForm):
    """The order itself."""

    draft_key = forms.UUIDField(widget=forms.HiddenInput)
    promised_on = PromiseField(label="promised for", required=False)
    items = RowsField(
        PriceItem.objects.none(), required=False, error_messages={"no_key": "Choose items of the price list only."}
    )
    agreed = forms.BooleanField(label="The customer agrees to these lines now", required=False)
    photos = PhotosField(label="photographs")

    class Meta:
        model = WorkOrder
        fields = ["complaint", "condition", "came_with", "bench_note", "priority", "promised_on", "rack_slot"]
        widgets = {
            "complaint": forms.Textarea({"rows": 4}),
            "condition": forms.Textarea({"rows": 3}),
            "came_with": forms.Textarea({"rows": 2}),
            "bench_note": forms.Textarea({"rows": 2}),
            "rack_slot": forms.TextInput({"list": "rack-slots", "autocomplete": "off"}),
        }

    def __init__(self, *args, place=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["promised_on"].place = place
        self.fields["items"].queryset = PriceItem.objects.offered()

    def clean(self):
        read = super().clean()
        if read.get("priority") == Priority.STAGE and not read.get("promised_on") and "promised_on" not in self.errors:
            self.add_error("promised_on", "It is needed on a date: write which.")
        return read


class Piece:
    """The forms of one instrument. The first has plain names; the others begin with their place, such as `2-job`.

    A known `instrument` takes the place of the form that describes a new one.
    """

    def __init__(self, place, workshop, *, data=None, files=None, instrument=None, initial=None):
        initial, start = initial or {}, "" if place == 1 else f"{place}-"
        self.place, self.workshop, self.instrument, self.start = place, workshop, instrument, start
        self.what = None
        if instrument is None:
            self.what = NewInstrumentForm(data, prefix=f"{start}instrument", initial=initial.get("what"))
        job = {"draft_key": uuid.uuid4()} | initial.get("job", {})
        self.job = JobForm(data, files, prefix=f"{start}job", initial=job, place=workshop)
        self.lines = FreeLinesForm(data, prefix=f"{start}lines")
        self.marks = MarksForm(data, files, prefix=f"{start}marks")
        self.marks.draft_key = self.job["draft_key"].value()

    @property
    def parts(self):
        return [part for part in (getattr(self, name) for name in PARTS) if part is not None]

    @property
    def is_first(self):
        return self.place == 1

    @property
    def picked(self):
        """The items of the price list that are ticked, as the strings that the page compares."""
        return {str(one) for one in self.job["items"].value() or ()}

    @property
    def named(self):
        """What the customer is told it is: `Larkrise Two-Post, serial LR-7`. Also while it is still being typed."""
        one = self.instrument or self._typed()
        return f"{one}, serial {one.serial}" if one.serial else str(one)

    def _typed(self):
        read = {name: (self.what[name].value() or "") for name in ("kind", "maker", "model_name", "serial")}
        return NewInstrumentForm.Meta.model(**{name: " ".join(str(text).split())[:80] for name, text in read.items()})

    def booking(self, customer, terms):
        """The Booking that a valid piece says; `terms` are the accepted text and the signature."""
        job, instrument = self.job.cleaned_data, self.instrument or self.what.instance
        own = ("complaint", "condition", "came_with", "bench_note", "priority", "promised_on", "rack_slot", "draft_key")
        text, signature = terms
        return Booking(
            customer=customer, instrument=instrument, lines=self.new_lines, agreed=job["agreed"],
            marks=self.marks.marks(instrument.hand), intake_terms=text, signature=signature,
            branch=self.workshop.branch,
            **{name: job[name] for name in own},
        )  # fmt: skip

    @property
    def new_lines(self):
        picked = [NewLine.of(item) for item in self.job.cleaned_data["items"].as_listed()[:MOST_LINES]]
        return (*picked, *self.lines.new_lines(self.workshop.tax_rate))
