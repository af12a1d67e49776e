"""What is uploaded, and the word that a person is really to be erased."""

from django import forms

from shop.figures.carrying.reading import LARGEST_BYTES


class UploadForm(forms.Form):
    file = forms.FileField(
        label="the file", max_length=200, help_text="CSV, in UTF-8, with a head line.",
        widget=forms.FileInput({"accept": ".csv,.txt,text/csv"}),
        error_messages={"empty": "The file is empty.", "required": "Choose a file first."},
    )  # fmt: skip

    def __init__(self, *args, kind="", **kwargs):
        super().__init__(*args, **kwargs)
        if kind == "customers":
            self.fields["file"].help_text = "CSV, in UTF-8, with a head line, or address cards (vCard)."
            self.fields["file"].widget.attrs["accept"] += ",.vcf,text/vcard"

    def clean_file(self):
        file = self.cleaned_data["file"]
        if file.size > LARGEST_BYTES:
            raise forms.ValidationError(f"The file has more than {LARGEST_BYTES // 2**20} MB. Split it.")
        return file


class EraseForm(forms.Form):
    name = forms.CharField(label="Type the customer's name", max_length=120)

    def __init__(self, *args, customer, **kwargs):
        super().__init__(*args, **kwargs)
        self.customer = customer
        self.fields["name"].widget.attrs["autocomplete"] = "off"

    def clean_name(self):
        if self.cleaned_data["name"].split() != self.customer.name.split():
            raise forms.ValidationError("This is not the name as it stands above.")
        return self.cleaned_data["name"]
