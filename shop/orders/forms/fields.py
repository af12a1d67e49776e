"""Fields that several forms of an order use."""

from django import forms

from shop.lib.dates import read_day
from shop.orders.opening import problem_with_promise

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


class DayField(forms.DateField):
    """A day of the calendar. What is none is named in the answer, since a browser's own calendar cannot show it."""

    def __init__(self, **kwargs):
        super().__init__(widget=DayInput({"class": "form-control"}), **kwargs)

    def to_python(self, value):
        try:
            return super().to_python(value)
        except forms.ValidationError:
            raise forms.ValidationError(f"There is no day “{str(value)[:40]}”. Write one as 2026-03-01.") from None


class PromiseField(DayField):
    """A day for which something can be promised at `place`: the workshop, or a branch of it. The form sets it."""

    place = None

    def validate(self, value):
        super().validate(value)
        if value and (problem := problem_with_promise(value, self.place)):
            raise forms.ValidationError(problem)


class DayInput(forms.DateInput):
    """The browser's own calendar; a date always travels as 2026-03-01. What is no date is shown as it was typed."""

    input_type = "date"

    def __init__(self, attrs=None):
        super().__init__(attrs, format="%Y-%m-%d")

    def get_context(self, name, value, attrs):
        context = super().get_context(name, value, attrs)
        if value and read_day(value) is None:  # a field of type date would show nothing
            context["widget"]["type"] = "text"
        return context
