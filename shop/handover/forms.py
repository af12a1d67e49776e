"""What is typed when something is handed over, corrected or mailed."""

from django import forms

from shop.handover.models import MailState, OutgoingMail


class CollectForm(forms.Form):
    reason = forms.CharField(
        label="why it goes all the same", max_length=300, required=False,
        help_text="Only when money is open, or is to be given back. It stands in the order's history.",
    )  # fmt: skip


class CreditForm(forms.Form):
    reason = forms.CharField(label="why it is corrected", max_length=300, help_text="Stands on the credit note.")
    send = forms.BooleanField(label="mail the credit note to the customer", required=False, initial=True)


class SilenceForm(forms.Form):
    address = forms.EmailField(label="e-mail address")
    reason = forms.CharField(label="why nothing is sent there", max_length=300)


class MailListForm(forms.Form):
    """Which mails to look at."""

    q = forms.CharField(label="Address, order or customer", max_length=100, required=False)
    state = forms.ChoiceField(label="State", required=False, choices=[("", "all"), *MailState.choices])

    def found(self):
        self.full_clean()
        rows = OutgoingMail.objects.with_parties()
        if self.cleaned_data.get("q"):
            rows = rows.matching(self.cleaned_data["q"])
        if self.cleaned_data.get("state"):
            rows = rows.filter(state=self.cleaned_data["state"])
        return rows
