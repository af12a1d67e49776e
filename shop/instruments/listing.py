"""The list of all instruments as its address asks for it, and as rows for a spreadsheet."""

from django import forms
from django.utils import timezone
from django.utils.functional import cached_property

from shop.instruments.kinds import Kind
from shop.instruments.models import Instrument
from shop.lib import parts
from shop.lib.keys import KeyField
from shop.lib.sorting import Column, Sorting
from shop.people.access import only_one_of

COLUMNS = (
    Column("what", "Instrument", ("maker", "model_name", "pk")),
    Column("serial", "Serial number", ("serial_key", "pk")),
    Column("kind", "Kind"), Column("owner", "Belongs to", ("customer__name", "pk"), narrow=True),
    Column("since", "On file since", ("pk",), down=True),
)  # fmt: skip
HEADS = (
    "no.", "maker", "model", "serial number", "kind", "strings", "bridge", "colour", "year made", "belongs to",
    "on file since",
)  # fmt: skip
AT_ONCE = 500


class ListForm(forms.Form):
    """What the list is asked for; nonsense in the address counts as not asked."""

    q = forms.CharField(label="Maker, model, colour or serial number", required=False, max_length=100)
    kind = forms.ChoiceField(label="Kind", required=False, choices=[("", "every kind"), *Kind.choices])

    customer = KeyField()

    @cached_property
    def sorting(self):
        self.is_valid()
        is_narrow = bool(self.cleaned_data.get("q") or self.cleaned_data.get("customer"))
        return Sorting(COLUMNS, self.data.get("sort"), usual="what", is_narrow=is_narrow)

    @property
    def about(self):
        """[("customer", the one whose instruments are asked for)], or nothing."""
        return only_one_of(self.cleaned_data)

    def found(self, *, whole=False):
        """The instruments that are asked for, with their owners."""
        self.is_valid()
        text, kind = self.cleaned_data.get("q"), self.cleaned_data.get("kind")
        rows = Instrument.objects.matching(text, most=parts.at_most(whole)) if text else Instrument.objects.all()
        rows = rows.filter(kind=kind) if kind else rows
        rows = rows.filter(customer=owner) if (owner := self.cleaned_data.get("customer")) else rows
        return rows.select_related("customer").order_by(*self.sorting.order_by)


def rows(instruments):
    """One row an instrument, read in pieces: the list may be long."""
    for one in instruments.iterator(chunk_size=AT_ONCE):
        yield (
            one.pk, one.maker, one.model_name, one.serial, one.get_kind_display(), one.string_count,
            one.get_family_display(), one.colour, one.year, one.customer.name, timezone.localdate(one.created_at),
        )  # fmt: skip
