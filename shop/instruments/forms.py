"""The form of an instrument's record. Its measurements have forms of their own."""

from django import forms

from shop.instruments.kinds import Kind, usual_of
from shop.instruments.models import Instrument
from shop.lib.careful import CarefulForm

WHAT_IT_IS = ["kind", "maker", "model_name", "serial", "family", "string_count"]


class KindSelect(forms.Select):
    """Each kind carries what it usually has, so that the page can offer it when the kind is chosen."""

    def create_option(self, name, value, *args, **kwargs):
        option = super().create_option(name, value, *args, **kwargs)
        if value in Kind.values:
            family, strings = usual_of(value)
            option["attrs"] |= {"data-family": str(family), "data-strings": strings}
        return option


class InstrumentForm(CarefulForm):
    class Meta:
        model = Instrument
        fields = [
            *WHAT_IT_IS, "hand", "colour", "year", "stringing", "post_thread", "stud_thread", "saddle_thread", "taste",
            "notes",
        ]  # fmt: skip
        widgets = {
            "kind": KindSelect({"data-kind": ""}),
            "taste": forms.Textarea({"rows": 3}),
            "notes": forms.Textarea({"rows": 3}),
        }
        help_texts = {
            "serial": "Spacing and dashes do not matter when it is looked for.",
            "post_thread": "Leave empty while nobody has measured it; moves are then given in mm only.",
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name in {"maker", "model_name", "serial", "colour", "year"} & set(self.fields):
            self.fields[name].widget.attrs["autocomplete"] = "off"
