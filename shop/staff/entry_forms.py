"""Forms of coming in: PIN, second factor, and what the owner decides about both."""

import re

from django import forms
from django.contrib.auth.forms import PasswordChangeForm, SetPasswordForm
from django.core.exceptions import ValidationError
from django.db.models import F
from django.utils.functional import cached_property

from shop.lib import parts
from shop.lib.careful import CarefulForm
from shop.lib.folding import folded
from shop.lib.sorting import Column, Sorting
from shop.staff.models import AuditEntry, AuditKind, Workshop

PASSWORD = {"autocomplete": "current-password"}
FIGURES = {"inputmode": "numeric", "autocomplete": "off", "maxlength": "12"}
IN_A_ROW = ("01234567890", "09876543210")


class OwnPasswordForm(forms.Form):
    """Whatever changes how somebody comes in is asked of themselves."""

    password = forms.CharField(
        max_length=128, strip=False, label="your password", widget=forms.PasswordInput(attrs=PASSWORD)
    )

    def __init__(self, *args, person, **kwargs):
        super().__init__(*args, **kwargs)
        self.person = person

    def clean_password(self):
        if not self.person.check_password(self.cleaned_data["password"]):
            raise ValidationError("This is not your password.")
        return self.cleaned_data["password"]


class NewPasswordWords:
    """The words of Django's forms for a new password, as plain as the others."""

    error_messages = {
        "password_mismatch": "The two are not the same.", "password_incorrect": "This is not your old password.",
    }  # fmt: skip

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        first, second = self.fields["new_password1"], self.fields["new_password2"]
        first.label, second.label = "new password", "the new password once more"
        first.help_text = "At least ten characters, such as a sentence. Not your name, and not what everybody takes."
        second.help_text = ""


class ChangePasswordForm(NewPasswordWords, PasswordChangeForm):
    pass


class ResetPasswordForm(NewPasswordWords, SetPasswordForm):
    pass


class PinForm(OwnPasswordForm):
    pin = forms.CharField(
        max_length=8, label="PIN", widget=forms.PasswordInput(attrs=FIGURES | {"autocomplete": "new-password"}),
        help_text="Four to eight figures.",
    )  # fmt: skip

    field_order = ["pin", "password"]

    def clean_pin(self):
        pin = self.cleaned_data["pin"]
        if not re.fullmatch(r"[0-9]{4,8}", pin):
            raise ValidationError("Write four to eight figures.")
        if len(set(pin)) == 1 or any(pin in row for row in IN_A_ROW):
            raise ValidationError("Everybody tries this one first: choose another.")
        return pin


class CodeForm(forms.Form):
    code = forms.CharField(max_length=40, label="code", widget=forms.TextInput(attrs=FIGURES | {"maxlength": "40"}))


class SecondFactorForm(CodeForm, OwnPasswordForm):
    field_order = ["code", "password"]


class ReEnterForm(forms.Form):
    word = forms.CharField(max_length=128, strip=False, widget=forms.PasswordInput(attrs=PASSWORD))


class ForgottenForm(forms.Form):
    who = forms.CharField(max_length=254, label="name or e-mail address")


class RulesForm(CarefulForm):
    class Meta:
        model = Workshop
        fields = ["lock_after_minutes", "owners_use_codes"]
        widgets = {"lock_after_minutes": forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"})}


COLUMNS = (
    Column("when", "When", ("at", "pk"), down=True), Column("what", "What", ("kind", "-at", "-pk")),
    Column("who", "Who", (F("by__shown_name").asc(nulls_last=True), "-at", "-pk"), narrow=True),
    Column("from", "From", ("address", "-at", "-pk"), narrow=True),
)  # fmt: skip


class AuditForm(forms.Form):
    """What is asked of the record; nonsense in the address counts as not asked."""

    q = forms.CharField(required=False, max_length=100)
    kind = forms.ChoiceField(required=False, choices=[("", "everything"), *AuditKind.choices])

    def found(self, *, whole=False):
        """What is asked for; of many that hold the words the newest, or the `whole` of them."""
        self.is_valid()
        entries = AuditEntry.objects.select_related("by")
        if kind := self.cleaned_data.get("kind"):
            entries = entries.filter(kind=kind)
        if words := self.cleaned_data.get("q"):
            keys = parts.keys_of(AuditEntry.objects, [parts.words_of(folded(words))], most=parts.at_most(whole))
            entries = entries.filter(pk__in=keys)
        return entries.order_by(*self.sorting.order_by)

    @cached_property
    def sorting(self):
        return Sorting(COLUMNS, self.data.get("sort"), usual="-when", is_narrow=bool(self.cleaned_data.get("q")))
