"""Marks on the outline: tapped, or by the name of a place."""

import uuid
from functools import cached_property

from django import forms

from shop.orders.forms.fields import CAMERA, RowForm
from shop.orders.models import ConditionMark, Photo
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
    """One mark. `x` and `y` come from a tap; without them the named place says where it is.

    `photo` is the key under which the mark's photograph was kept: sent ahead by script, or in the form, as `file`.
    """

    TELLS = ("note", "place", "x", "photo")

    side = forms.ChoiceField(choices=SIDES, initial="front")
    place = forms.ChoiceField(
        label="where", choices=[("", "choose a place"), *PLACE_CHOICES], required=False, widget=PlaceSelect
    )
    x = forms.FloatField(min_value=0, max_value=1, required=False, widget=forms.HiddenInput)
    y = forms.FloatField(min_value=0, max_value=1, required=False, widget=forms.HiddenInput)
    photo = forms.UUIDField(required=False, widget=forms.HiddenInput({"data-photo-key": ""}))
    file = forms.FileField(
        label="photograph", required=False,
        widget=forms.FileInput(CAMERA | {"capture": "environment", "data-mark-file": ""}),
    )  # fmt: skip
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
        if (tapped or read.get("place") or read.get("photo")) and not read.get("note"):
            self.add_error("note", "Say what the mark is, such as: dent, crack, worn finish.")
        return read

    @property
    def photo_key(self):
        """The key of its photograph, also while the form is not checked yet; None where there is none."""
        try:
            return uuid.UUID(str(self["photo"].value()))
        except ValueError:
            return None

    def at(self, hand):
        """(x, y) of the mark on an instrument for that hand."""
        read = self.cleaned_data
        if read["x"] is not None and read["y"] is not None:
            return read["x"], read["y"]
        return place_at(read["place"], side=read["side"], hand=hand)


class MarkWithFileForm(MarkForm):
    """A mark on an order's own page, with its photograph, if there is one."""

    file = forms.FileField(label="photograph", required=False, widget=forms.FileInput(CAMERA))


class MarkPhotoForm(forms.Form):
    """The photograph of a mark that is written down already."""

    file = forms.FileField(
        label="photograph", error_messages={"required": "Choose a photograph first.", "empty": "This file is empty."}
    )


class MarkFormSet(forms.BaseFormSet):
    """`draft_key` is that of the draft whose photographs the marks may show."""

    draft_key = None

    def clean(self):
        """Every photograph that a mark names has to be here. One query, where any is named."""
        wanted = [form for form in self.forms if form.cleaned_data.get("photo")]
        for form in wanted:
            if form.cleaned_data["photo"] not in self.photos:
                form.add_error("photo", "The photograph of this mark has not arrived. Take it again, or take it off.")

    @cached_property
    def photos(self):
        """{upload key: Photo} of the draft."""
        try:
            draft_key = uuid.UUID(str(self.draft_key))
        except ValueError:
            return {}
        kept = Photo.objects.filter(order=None, draft_key=draft_key, upload_key__isnull=False)
        return {one.upload_key: one for one in kept}

    def marks(self, hand):
        """Unsaved ConditionMarks of what was filled in."""
        return tuple(
            ConditionMark(side=read["side"], x=x, y=y, note=read["note"], photo=self.photos.get(read["photo"]))
            for form in self.forms
            if not form.is_blank
            for read in [form.cleaned_data]
            for x, y in [form.at(hand)]
        )


MarksForm = forms.formset_factory(
    MarkForm, formset=MarkFormSet, extra=1, max_num=MOST_MARKS, validate_max=True, absolute_max=MOST_MARKS + 40
)
