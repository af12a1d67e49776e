"""Marks on the outline: tapped, or by the name of a place."""

from django import forms

from shop.orders.forms.fields import RowForm
from shop.orders.models import ConditionMark
from shop.orders.outlines import PLACE_CHOICES, PLACES, place_at
from shop.orders.services.details import MOST_MARKS

SIDES = [("front", "front"), ("back", "back")]


class PlaceSelect(forms.Select):
    """Each place carries where it lies, so that a tap on the drawing and a choice from the list agree."""

    def create_option(self, name, value, *args, **kwargs):
        option = super().create_option(name, value, *args, **kwargs)
        if value in PLACES:
            _, x, y = PLACES[value]
            option["attrs"] |= {"data-x": x, "data-y": y}
        return option


class MarkForm(RowForm):
    """One mark. `x` and `y` come from a tap; without them the named place says where it is."""

    TELLS = ("note", "place", "x")

    side = forms.ChoiceField(choices=SIDES, initial="front")
    place = forms.ChoiceField(
        label="where", choices=[("", "choose a place"), *PLACE_CHOICES], required=False, widget=PlaceSelect
    )
    x = forms.FloatField(min_value=0, max_value=1, required=False, widget=forms.HiddenInput)
    y = forms.FloatField(min_value=0, max_value=1, required=False, widget=forms.HiddenInput)
    note = forms.CharField(
        label="what is there", max_length=200, required=False, widget=forms.TextInput({"autocomplete": "off"})
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, styled in (("side", "form-select"), ("place", "form-select"), ("note", "form-control")):
            self.fields[name].widget.attrs["class"] = styled

    def clean(self):
        read = super().clean()
        tapped = read.get("x") is not None and read.get("y") is not None
        if self.has_changed() and not tapped and not read.get("place") and not self.errors:
            self.add_error("place", "Tap the drawing, or choose where the mark is.")
        if (tapped or read.get("place")) and not read.get("note"):
            self.add_error("note", "Say what the mark is, such as: dent, crack, worn finish.")
        return read

    def at(self, hand):
        """(x, y) of the mark on an instrument for that hand."""
        read = self.cleaned_data
        if read["x"] is not None and read["y"] is not None:
            return read["x"], read["y"]
        return place_at(read["place"], side=read["side"], hand=hand)


class MarkFormSet(forms.BaseFormSet):
    def marks(self, hand):
        """Unsaved ConditionMarks of what was filled in."""
        return tuple(
            ConditionMark(side=form.cleaned_data["side"], x=x, y=y, note=form.cleaned_data["note"])
            for form in self.forms
            if not form.is_blank
            for x, y in [form.at(hand)]
        )


MarksForm = forms.formset_factory(
    MarkForm, formset=MarkFormSet, extra=1, max_num=MOST_MARKS, validate_max=True, absolute_max=MOST_MARKS + 40
)
