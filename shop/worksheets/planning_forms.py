"""What the plan's page sends: what to suppose, and work to offer."""

from django import forms

from shop.instruments.kinds import Stringing
from shop.instruments.stringsets import BY_KEY, sets_for
from shop.instruments.tunings import tunings_for
from shop.lib.amounts import AmountField
from shop.stock.models import PriceItem
from shop.worksheets import profiles
from shop.worksheets.families.parts import STUDS
from shop.worksheets.models import TargetProfile
from shop.worksheets.plan.warnings import WORK
from shop.worksheets.whatif import Change

AS_IT_IS = ("", "as it is")


def _choice(label, choices):
    return forms.ChoiceField(
        label=label, choices=[AS_IT_IS, *choices], required=False,
        widget=forms.Select(attrs={"class": "form-select"}),
        error_messages={"invalid_choice": "That is not offered here: choose one of the list."},
    )  # fmt: skip


class WhatIfForm(forms.Form):
    """Another set, tuning, profile or stringing, from the page's own address, so that it can be kept and passed on."""

    def __init__(self, data, *, worksheet):
        super().__init__(data)
        self.worksheet, instrument = worksheet, worksheet.order.instrument
        count = len(worksheet.strings)
        self.tunings = tunings_for(instrument.kind, count)
        kinds = TargetProfile.objects.filter(kind=instrument.kind).values_list("pk", "name")
        self.fields["set"] = _choice("Strings", [(one.key, one.label) for one in sets_for(instrument.kind, count)])
        self.fields["tuning"] = _choice("Tuning", [(str(n), name) for n, name in enumerate(self.tunings, start=1)])
        self.fields["targets"] = _choice("Targets", [(str(pk), name) for pk, name in kinds])
        plan = worksheet.family_plan
        if plan and plan.tail == STUDS:
            self.fields["stringing"] = _choice("Strings go", Stringing.choices)

    @property
    def asks(self):
        """Whether anything is to be supposed at all."""
        return any(self.cleaned_data.values()) if self.is_valid() else False

    def change(self):
        given = self.cleaned_data
        profile = given.get("targets") and TargetProfile.objects.prefetch_related("ranges").get(pk=given["targets"])
        return Change(
            strings=self._strings(given), targets=profiles.targets_of(profile) if profile else None,
            stringing=given.get("stringing") or None,
        )  # fmt: skip

    def _strings(self, given):
        """Bass to treble, as the worksheet keeps them; sets and tunings run from the highest string down."""
        if not given["set"] and not given["tuning"]:
            return None
        strings = [dict(one) for one in self.worksheet.strings]
        for one, gauge in zip(reversed(strings), BY_KEY[given["set"]].gauges if given["set"] else (), strict=False):
            one |= {"material": str(gauge.material), "diameter_mm": gauge.diameter_mm, "core_mm": None}
        notes = list(self.tunings.values())[int(given["tuning"]) - 1] if given["tuning"] else ()
        for one, midi in zip(reversed(strings), notes, strict=False):
            one["midi"] = midi
        return tuple(strings)


class OfferForm(forms.Form):
    """Work for the quote: an item of the price list, or the plan's own words at a price."""

    work = forms.ChoiceField(
        choices=[(key, one.text) for key, one in WORK.items()],
        error_messages={"invalid_choice": "The plan knows no such work.", "required": "Say which work is meant."},
    )  # fmt: skip
    item = forms.ModelChoiceField(
        PriceItem.objects.offered(), required=False,
        error_messages={"invalid_choice": "This is not on the price list any more: choose another."},
    )  # fmt: skip
    price = AmountField(required=False)

    def clean(self):
        read = super().clean()
        if read.get("item") is None and read.get("price") is None and not self.errors:
            self.add_error("price", "Write what it costs, or choose an item of the price list.")
        return read

    def problem(self):
        return " ".join(message for messages in self.errors.values() for message in messages)
