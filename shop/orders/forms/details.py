"""Small forms of an order's own page."""

from django import forms

from shop.lib.careful import CarefulForm
from shop.orders.forms.fields import PhotosField, PromiseField
from shop.orders.models import Priority, WorkOrder
from shop.staff.branching import others_open, several
from shop.staff.models import Branch

HOWS = ["at the counter", "by telephone", "by e-mail"]


class MoveForm(forms.Form):
    reason = forms.CharField(max_length=300, required=False)


class AnswerForm(forms.Form):
    """How the customer gave the answer."""

    how = forms.ChoiceField(
        choices=[(how, how) for how in HOWS], initial=HOWS[0], widget=forms.Select({"class": "form-select"})
    )
    name = forms.CharField(
        label="who said so", max_length=120, required=False,
        widget=forms.TextInput({"class": "form-control", "autocomplete": "off"}),
    )  # fmt: skip


class PromiseForm(forms.Form):
    promised_on = PromiseField(label="promised for", required=False)
    reason = forms.CharField(label="why it changes", max_length=200, required=False)

    def __init__(self, *args, place=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["promised_on"].place = place


class RackForm(forms.Form):
    rack_slot = forms.CharField(label="rack", max_length=40, required=False)


class BranchForm(forms.Form):
    """To which branch an order goes, and why."""

    to = forms.ModelChoiceField(
        Branch.objects.none(), label="to another branch", empty_label="choose",
        widget=forms.Select({"class": "form-select"}),
    )  # fmt: skip
    reason = forms.CharField(
        label="why", max_length=200, required=False,
        widget=forms.TextInput({"class": "form-control", "autocomplete": "off"}),
    )  # fmt: skip

    def __init__(self, *args, order, **kwargs):
        super().__init__(*args, **kwargs)
        if several():
            self.fields["to"].queryset = others_open(order.branch)


class NoteForm(forms.Form):
    text = forms.CharField(label="remark", max_length=1000, widget=forms.Textarea({"rows": 2}))


class PhotoForm(forms.Form):
    photos = PhotosField(label="photographs")
    caption = forms.CharField(max_length=200, required=False)


class DetailsForm(CarefulForm):
    class Meta:
        model = WorkOrder
        fields = ["complaint", "condition", "came_with", "bench_note", "priority"]
        widgets = {
            name: forms.Textarea({"rows": rows})
            for name, rows in (("complaint", 4), ("condition", 3), ("came_with", 2), ("bench_note", 3))
        }

    def clean(self):
        read = super().clean()
        if read.get("priority") == Priority.STAGE and not self.instance.promised_on:
            self.add_error("priority", "It is needed on a date: promise it for one first.")
        return read
