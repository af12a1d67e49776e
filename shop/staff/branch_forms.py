"""What forms share about branches: lists within somebody's reach, and the owner's page of one branch."""

from decimal import Decimal

from django import forms

from shop.lib.amounts import QuantityField
from shop.lib.careful import CarefulForm
from shop.lib.keys import RowsField
from shop.staff.branches import NotAllowed, check_mark
from shop.staff.branching import choices, reach
from shop.staff.models import Branch, Person
from shop.staff.roles import Role


class OfBranches(forms.Form):
    """A list's form: it finds what `person` sees, and of one branch alone where they see several and ask for it."""

    def __init__(self, *args, person, **kwargs):
        super().__init__(*args, **kwargs)
        self.person = person
        found = choices(person)
        if len(found) > 1:
            named = [("", "all branches"), *[(str(branch.pk), branch.name) for branch in found]]
            self.fields["branch"] = forms.ChoiceField(required=False, choices=named)

    @property
    def asked(self):
        """The key of the one branch that is asked for, or None; what is nonsense counts as not asked."""
        self.is_valid()
        found = self.cleaned_data.get("branch")
        return int(found) if found else None

    @property
    def keys(self):
        """The keys of the branches that are looked at, as `branching.reach` says them."""
        return reach(self.person) if self.asked is None else (self.asked,)

    def of_branches(self, rows, path="branch"):
        """Those of `rows` that may be seen and are asked for."""
        return rows if self.keys is None else rows.filter(**{f"{path}__in": self.keys})


class BranchForm(CarefulForm):
    """What one branch is called, and what it says of itself where that is not as the workshop says."""

    bench_hours_a_day = QuantityField(
        required=False, label="bench hours a day", min_value=Decimal("0.5"), max_value=Decimal(24)
    )

    class Meta:
        model = Branch
        fields = ["name", "mark", "address", "phone", "email", "opening_hours", "bench_hours_a_day", "rack_slots"]
        widgets = {name: forms.Textarea({"rows": 3}) for name in ("address", "opening_hours", "rack_slots")}
        help_texts = {
            "name": "As your people call it.",
            "address": "Stands on its papers and mails. Which address an invoice has to name is for local law to say.",
            "rack_slots": "One a line: the places where instruments wait.",
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["mark"].widget.attrs |= {"autocapitalize": "characters", "autocomplete": "off"}
        self.fields["mark"].to_python = upper

    def clean_mark(self):
        mark = self.cleaned_data["mark"]
        try:
            check_mark(Branch.objects.get(pk=self.instance.pk) if self.instance.pk else self.instance, mark)
        except NotAllowed as refusal:
            raise forms.ValidationError(str(refusal)) from refusal
        return mark


class FirstForm(forms.Form):
    """What the branch is called that was the whole workshop until now."""

    first_name = forms.CharField(label="what the present one is called", max_length=60)
    first_mark = forms.RegexField(
        r"^[A-Z]{1,3}$", label="its mark", required=False,
        help_text="Without one its numbers go on as they are.",
        error_messages={"invalid": "Write one to three capital letters."},
    )  # fmt: skip

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["first_mark"].to_python = upper


class PeopleForm(forms.Form):
    """Who works in a branch. Owners are in all of them and need no tick."""

    people = RowsField(
        Person.objects.none(), required=False, label="who works here", widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args, branch, **kwargs):
        super().__init__(*args, initial={"people": branch.people.all()}, **kwargs)
        self.fields["people"].queryset = Person.objects.filter(is_active=True).exclude(role=Role.OWNER)


def upper(value):
    """What was typed, without blanks around it and in capitals."""
    return (value or "").strip().upper()
