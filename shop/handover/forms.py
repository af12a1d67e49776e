"""What is typed when something is handed over, corrected or mailed."""

from django import forms
from django.utils import timezone
from django.utils.functional import cached_property

from shop.handover.models import MailState, OutgoingMail
from shop.handover.wordings import MAILS, problem_with
from shop.lib.dates import is_believable_promise, today
from shop.lib.folding import printable
from shop.lib.sorting import Column, Sorting
from shop.lib.templatetags.said import day as said
from shop.orders.forms.fields import DayField, DayInput
from shop.staff.branch_forms import OfBranches

QUOTE_UNTIL = "quote-until"  # the field's id on an order's page


class QuoteForm(forms.Form):
    """Until when a quote is to be valid."""

    valid_until = DayField(label="valid until", required=False)

    def clean_valid_until(self):
        day = self.cleaned_data["valid_until"]
        if day and day < today():
            raise forms.ValidationError(f"{said(day)} is past. A quote is valid until a day from today on.")
        if day and not is_believable_promise(day, now=today()):
            raise forms.ValidationError(f"{said(day)} is more than two years away. Choose a nearer day.")
        return day


class QuoteAnswerForm(forms.Form):
    """A customer's answers to the lines of a quote, signed with their name."""

    version = forms.IntegerField(widget=forms.HiddenInput)
    name = forms.CharField(
        label="your name", max_length=120, widget=forms.TextInput({"autocomplete": "name", "class": "form-control"}),
        error_messages={"required": "Write your name under your answers."},
    )  # fmt: skip

    def __init__(self, *args, page, **kwargs):
        super().__init__(*args, initial={"version": page.quote.version if page.quote else 0}, **kwargs)
        self.page = page
        self.rows = {f"line-{row.kept['line']}": row.kept for row in page.rows if row.standing == "open"}
        for key in self.rows:
            self.fields[key] = forms.ChoiceField(
                choices=[("agreed", "I agree"), ("declined", "I decline")], required=False, widget=forms.RadioSelect
            )

    def clean(self):
        read = super().clean()
        if not self.rows:
            self.add_error(None, self.page.why_no_answer)
        elif not self.answers:
            self.add_error(None, "Choose an answer for at least one line.")
        return read

    @property
    def answers(self):
        """{line's pk: agreed or declined} of what was chosen."""
        return {kept["line"]: read for key, kept in self.rows.items() if (read := self.cleaned_data.get(key))}


class CollectForm(forms.Form):
    """When it went, and why, if something is open. `order` is the one that is handed over.

    The day is empty until somebody writes one: a page that stood open overnight would send yesterday's.
    """

    collected_on = DayField(label="collected on", required=False, help_text="Another day, if it went earlier.")
    reason = forms.CharField(
        label="why it goes all the same", max_length=300, required=False,
        help_text="Only when money is open, or is to be given back. It stands in the order's history.",
    )  # fmt: skip

    def __init__(self, *args, order, **kwargs):
        super().__init__(*args, **kwargs)
        self.order = order

    def clean_collected_on(self):
        day, received = self.cleaned_data["collected_on"] or today(), timezone.localdate(self.order.booked_at)
        if day > today():
            raise forms.ValidationError(f"{said(day)} is still to come.")
        if day < received:
            raise forms.ValidationError(f"It was taken in on {said(received)}; nobody can have collected it before.")
        return day


class ExpectForm(forms.Form):
    day = forms.DateField(required=False, widget=DayInput({"class": "form-control"}))


class CreditForm(forms.Form):
    reason = forms.CharField(label="why it is corrected", max_length=300, help_text="Stands on the credit note.")
    send = forms.BooleanField(label="mail the credit note to the customer", required=False, initial=True)


class SilenceForm(forms.Form):
    address = forms.EmailField(label="e-mail address")
    reason = forms.CharField(label="why nothing is sent there", max_length=300)


COLUMNS = (
    Column("mail", "Mail"), Column("to", "To", ("to", "pk"), narrow=True), Column("order", "Order"),
    Column("written", "Written", ("pk",), down=True), Column("state", "State"),
)  # fmt: skip


class MailListForm(OfBranches):
    """Which mails to look at."""

    q = forms.CharField(label="Address, order or customer", max_length=100, required=False)
    state = forms.ChoiceField(label="State", required=False, choices=[("", "all"), *MailState.choices])

    def found(self):
        self.full_clean()
        rows = OutgoingMail.objects.for_person(self.person).with_parties()
        if self.asked:
            rows = self.of_branches(rows, "order__branch")
        if self.cleaned_data.get("q"):
            rows = rows.matching(self.cleaned_data["q"])
        if self.cleaned_data.get("state"):
            rows = rows.filter(state=self.cleaned_data["state"])
        return rows.order_by(*self.sorting.order_by)

    @cached_property
    def sorting(self):
        return Sorting(COLUMNS, self.data.get("sort"), usual="-written", is_narrow=bool(self.cleaned_data.get("q")))


class WordsForm(forms.Form):
    """The words of one mail. `days` only for reminders."""

    subject = forms.CharField(label="subject", max_length=150)
    body = forms.CharField(
        label="the mail", max_length=4000, strip=True, widget=forms.Textarea(attrs={"rows": 14}),
        help_text="An empty line begins a new paragraph.",
    )  # fmt: skip
    days = forms.IntegerField(
        label="how many days before it may go", min_value=1, max_value=365,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )  # fmt: skip

    def __init__(self, *args, name, words, **kwargs):
        kept = {"subject": words.subject, "body": words.body, "days": words.days}
        super().__init__(*args, initial=kept, **kwargs)
        self.name = name
        if MAILS[name].days is None:
            del self.fields["days"]
        else:
            since = "the due day" if name == "reminder" else "the reminder before"
            self.fields["days"].help_text = f"Counted from {since}. It never goes sooner."

    def clean_subject(self):
        return self._checked(printable(self.cleaned_data["subject"]), is_subject=True)

    def clean_body(self):
        lines = self.cleaned_data["body"].replace("\r\n", "\n").replace("\r", "\n").split("\n")
        return self._checked("\n".join(printable(line) for line in lines), is_subject=False)

    def _checked(self, text, *, is_subject):
        if problem := problem_with(self.name, text, is_subject=is_subject):
            raise forms.ValidationError(problem)
        return text
