"""Which details stay when two records become one."""

from django import forms

from shop.figures.merging.kinds import rows_of, texts_together

KEPT, GONE = "kept", "gone"


class MergeForm(forms.Form):
    """A choice for each detail that both say differently, and the texts of both put together."""

    seen = forms.CharField(widget=forms.HiddenInput, max_length=24)

    def __init__(self, *args, kind, kept, gone, **kwargs):
        super().__init__(*args, initial={"seen": kind.seen(kept, gone)}, **kwargs)
        self.rows = rows_of(kind, kept, gone)
        for row in self.rows:
            if row.is_asked:
                self.fields[row.name] = forms.ChoiceField(
                    label=row.label.capitalize(), choices=[(KEPT, row.kept), (GONE, row.gone)], initial=KEPT,
                    widget=forms.RadioSelect,
                )  # fmt: skip
        self.texts = [name for name in kind.joined if getattr(kept, name) or getattr(gone, name)]
        for name in self.texts:
            field = kind.model._meta.get_field(name)
            self.fields[name] = forms.CharField(
                label=str(field.verbose_name).capitalize(), required=False, max_length=field.max_length,
                initial=texts_together(getattr(kept, name), getattr(gone, name)),
                widget=forms.Textarea({"rows": 5, "class": "form-control"}),
            )  # fmt: skip

    @property
    def asked(self):
        """[(row, its bound field)] of what has to be chosen."""
        return [(row, self[row.name]) for row in self.rows if row.is_asked]

    @property
    def settled(self):
        return [row for row in self.rows if not row.is_asked]

    @property
    def bound_texts(self):
        return [self[name] for name in self.texts]

    def choice(self):
        """What `services.merge` asks for."""
        read = self.cleaned_data
        return {
            "chosen": {row.name for row in self.rows if row.is_asked and read[row.name] == GONE},
            "texts": {name: read[name] for name in self.texts}, "seen": read["seen"],
        }  # fmt: skip
