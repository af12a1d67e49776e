"""The counter's form: who, each instrument that was brought, and the terms for all of them."""

from django.core.exceptions import ValidationError

from shop.orders.forms.pieces import Piece
from shop.orders.forms.reshaping import next_place
from shop.orders.forms.terms import TermsForm
from shop.people.forms import CustomerForm

MOST_OTHERS = 8


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

    `instruments` are the known ones by their place in the visit, from 1 on; None is one that is new here. Of the place
    `fresh` nothing was sent yet.
    """

    def __init__(self, workshop, *, data=None, files=None, customer=None, instruments=None, initial=None, carried=None,
                 fresh=None):  # fmt: skip
        initial, instruments = initial or {}, instruments or {1: None}
        self.carried = carried  # what the bench carries, where it is known already
        self.workshop, self.customer = workshop, customer
        self.is_bound = data is not None
        self.who = None if customer else NewCustomerForm(data, prefix="customer", initial=initial.get("who"))
        self.pieces = [
            Piece(place, workshop, instrument=instrument, initial=initial if place == 1 else None,
                  **({} if place == fresh else {"data": data, "files": files}))
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
        return [part for _, parts in self.sections for part in parts]

    @property
    def sections(self):
        """[(which instrument, its forms)] in the order of the page. Of a single one it goes without saying."""
        pieces = [(piece.named if len(self.pieces) > 1 else "", piece.parts) for piece in self.pieces]
        return [("", [self.who] if self.who else []), *pieces, ("", [self.terms])]

    @property
    def next_place(self):
        """Where one more instrument would stand; None when the visit is full."""
        return next_place([piece.place for piece in self.pieces])

    @property
    def others(self):
        """More instruments of a known customer, which may have come along. One query."""
        here = [piece.instrument.pk for piece in self.pieces if piece.instrument]
        return self.customer.instruments.exclude(pk__in=here)[:MOST_OTHERS] if self.customer else []

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
