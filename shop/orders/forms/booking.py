"""The counter's form: who, each instrument that was brought, and the terms for all of them."""

from django.core.exceptions import ValidationError

from shop.orders.forms.pieces import MOST_TOGETHER, Piece
from shop.orders.forms.terms import TermsForm
from shop.people.forms import CustomerForm


class NewCustomerForm(CustomerForm):
    """What the counter asks of somebody who was never here; the rest can wait."""

    class Meta(CustomerForm.Meta):
        fields = ["name", "phone", "email", "company"]

    def clean(self):
        read = super().clean()
        if not (read.get("phone") or read.get("email") or {"phone", "email"} & set(self.errors)):
            self.add_error("phone", "Write a telephone number or an e-mail address, to say when it is ready.")
        return read


class BookInForm:
    """The forms of one visit together. A known customer or instrument takes the place of its form.

    `instruments` are the known ones by their place in the visit, from 1 on; None is one that is new here.
    """

    def __init__(self, workshop, *, data=None, files=None, customer=None, instruments=None, initial=None, carried=None):
        initial, instruments = initial or {}, instruments or {1: None}
        self.carried = carried  # what the bench carries, where it is known already
        self.workshop, self.customer = workshop, customer
        self.is_bound = data is not None
        self.who = None if customer else NewCustomerForm(data, prefix="customer", initial=initial.get("who"))
        self.pieces = [
            Piece(place, workshop, data=data, files=files, instrument=instrument,
                  initial=initial if place == 1 else None)
            for place, instrument in instruments.items()
        ]  # fmt: skip
        self.terms = TermsForm(data, terms=workshop.intake_terms, names=self.names)

    @property
    def first(self):
        return self.pieces[0]

    @property
    def names(self):
        return [piece.named for piece in self.pieces]

    @property
    def parts(self):
        parts = [self.who, *(part for piece in self.pieces for part in piece.parts), self.terms]
        return [part for part in parts if part is not None]

    @property
    def may_grow(self):
        return len(self.pieces) < MOST_TOGETHER

    @property
    def draft_keys(self):
        """Of the drafts that are still to be booked in; what can be no key is left out."""
        field = self.first.job.fields["draft_key"]
        return [key for piece in self.pieces if (key := _read(field, piece.job["draft_key"].value()))]

    def is_valid(self):
        are_whole = [part.is_valid() for part in self.parts]  # each is looked at, so that each says what is wrong
        return all(are_whole) and not self._twice()

    def _twice(self):
        """Whether a known instrument was put into the visit twice; says so on the second one."""
        seen = set()
        for piece in self.pieces:
            key = piece.instrument and piece.instrument.pk
            if key and key in seen:
                piece.job.add_error(None, f"{piece.instrument} is in this visit already: take one of the two off.")
                return True
            seen.add(key)
        return False

    def bookings(self):
        """The Bookings that a valid form says, in the order of the page."""
        customer = self.customer or self.who.instance
        return [piece.booking(customer, self.terms.accepted) for piece in self.pieces]


def _read(field, text):
    try:
        return field.clean(text)
    except ValidationError:
        return None
