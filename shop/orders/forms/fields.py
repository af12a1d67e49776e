"""Fields that several forms of an order use."""

from django import forms

# Naming these types makes a telephone turn its own format into JPEG before it sends.
CAMERA = {"accept": "image/jpeg,image/png,image/webp", "class": "form-control"}


class ManyFiles(forms.ClearableFileInput):
    allow_multiple_selected = True

    def value_from_datadict(self, data, files, name):
        return files.getlist(name) if hasattr(files, "getlist") else files.get(name)


class PhotosField(forms.FileField):
    """Any number of photographs, from the camera or the album. Their content is checked where they are kept."""

    def __init__(self, **kwargs):
        super().__init__(required=False, widget=ManyFiles(dict(CAMERA)), **kwargs)

    def clean(self, data, initial=None):
        files = data if isinstance(data, list | tuple) else [data] if data else []
        return [super(PhotosField, self).clean(one, initial) for one in files]


class RowForm(forms.Form):
    """A row that people may leave blank or take out of the middle: it counts only once one of `TELLS` is filled in."""

    TELLS = ()

    def has_changed(self):
        return any(self[name].data not in (None, "") for name in self.TELLS)

    @property
    def is_blank(self):
        return not self.has_changed()


class DayInput(forms.DateInput):
    """The browser's own calendar; a date always travels as 2026-03-01."""

    input_type = "date"

    def __init__(self, attrs=None):
        super().__init__(attrs, format="%Y-%m-%d")
