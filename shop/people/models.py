"""Customers: who they are and how to reach them."""

from django.conf import settings
from django.db import models
from django.db.models.functions import Lower

from shop.lib import parts
from shop.lib.addresses import address_lines
from shop.lib.folding import LEAST_OF_A_NUMBER, digits_of, folded, phone_guesses, phones_agree, printable
from shop.people import hooks
from shop.people.merge_models import CustomerMerge  # noqa: F401 (Django's way in)

MOST_ALIKE = 4
MOST_NAMED = 50  # namesakes whose addresses are compared
MOST_NEAR = 200  # customers whose telephone ends alike
LONGEST_KEY = 600  # letters, of four bytes at most: what PostgreSQL takes into an index


class CustomerQuerySet(models.QuerySet):
    def keys_matching(self, text, *, most=parts.MOST):
        """The keys of all customers, the newest first, whose name, firm, e-mail or telephone contain what somebody
        remembers of them."""
        words = parts.words_of(folded(text))
        guesses = [[digits] for digits in phone_guesses(text)] if words else []
        return parts.keys_of(Customer.objects.using(self.db), [words, *guesses], most=most)

    def matching(self, text, *, most=parts.MOST):
        """Which of these customers `text` may mean; `most` as for `keys_of`."""
        return self.filter(pk__in=self.keys_matching(text, most=most))

    def with_telephone(self, text):
        """Customers who have this telephone number, in whatever format, with or without its country."""
        digits = digits_of(text)
        if len(digits.lstrip("0")) < LEAST_OF_A_NUMBER:
            return self.none()
        keys = parts.keys_of(Customer.objects.using(self.db), [[digits[-LEAST_OF_A_NUMBER:]]], most=MOST_NEAR)
        near = self.filter(pk__in=keys).values_list("pk", "phone_digits")
        return self.filter(pk__in=[pk for pk, theirs in near if phones_agree(digits, theirs)])

    def with_email(self, text):
        text = printable(text).strip()
        return self.filter(email__in_any_case=text) if "@" in text else self.none()

    def named_and_living(self, name, address):
        """Customers of this name at this postal address, in whatever writing."""
        name, address = folded(name), folded(address)
        if not (name and address):
            return self.none()
        near = self.filter(**_named(name))[:MOST_NAMED]
        same = [one.pk for one in near if (folded(one.name), folded(one.address)) == (name, address)]
        return self.filter(pk__in=same)

    def perhaps_the_same(self, customer):
        """[(Customer, why)] of those who may be `customer` written down twice. Two queries."""
        digits, email, name = digits_of(customer.phone), customer.email.strip(), folded(customer.name)
        address = folded(customer.address)
        tail = [[digits[-LEAST_OF_A_NUMBER:]]] if len(digits.lstrip("0")) >= LEAST_OF_A_NUMBER else []
        words = [parts.words_of(folded(email))] if "@" in email else []
        living = self.filter(erased_at=None).exclude(pk=customer.pk).order_by()
        near = living.filter(pk__in=parts.keys_of(Customer.objects.using(self.db), [*tail, *words], most=MOST_NEAR))
        if name and address:  # beside the others rather than in one query with "or", for which a server reads them all
            named = self.filter(**_named(name)).order_by("name", "pk").values("pk")[:MOST_NAMED]
            near = near.union(living.filter(pk__in=named))
        asked = (
            ("the same telephone number", lambda one: bool(tail) and phones_agree(digits, one.phone_digits)),
            ("the same e-mail address", lambda one: bool(words) and one.email.casefold() == email.casefold()),
            ("the same name and address",
             lambda one: bool(name and address) and (folded(one.name), folded(one.address)) == (name, address)),
        )  # fmt: skip
        found = [(one, [why for why, is_same in asked if is_same(one)]) for one in near.order_by("name", "pk")]
        return [(one, " and ".join(whys)) for one, whys in found if whys][:MOST_ALIKE]


def _named(name):
    """The condition of those whose folded name begins so, which an index finds."""
    return {"search_key__gte": name, "search_key__lt": f"{name}\uffff"}


class Customer(models.Model):
    name = models.CharField(max_length=120, help_text="As it should stand on papers.")
    company = models.CharField("firm", max_length=120, blank=True)
    email = models.EmailField("e-mail", blank=True, help_text="Receipts and papers are sent here. Leave empty if none.")
    phone = models.CharField("telephone", max_length=40, blank=True)
    address = models.TextField(
        "street, house and what else the post needs", max_length=400, blank=True, help_text="All but postcode and town."
    )
    postcode = models.CharField(max_length=16, blank=True)
    town = models.CharField(max_length=80, blank=True)
    country = models.CharField(max_length=2, blank=True, help_text="Two letters, such as DE.")
    vat_number = models.CharField("VAT number", max_length=20, blank=True)
    buyer_reference = models.CharField(max_length=60, blank=True, help_text="Firms and offices may ask for one.")
    taste = models.TextField(
        "how this player likes it", max_length=1000, blank=True, help_text="Action, strings, tuning, feel."
    )
    notes = models.TextField(max_length=2000, blank=True, help_text="For the workshop only; never printed.")
    mail_agreed = models.BooleanField("may be mailed about the job", default=True)
    phone_digits = models.CharField(max_length=40, blank=True, editable=False)
    search_key = models.CharField(max_length=LONGEST_KEY, blank=True, editable=False, db_index=True)
    created_at = models.DateTimeField(auto_now_add=True)
    erased_at = models.DateTimeField(null=True, blank=True, editable=False)
    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, editable=False, related_name="+"
    )

    objects = CustomerQuerySet.as_manager()

    class Meta:
        ordering = ["name", "pk"]
        indexes = [
            models.Index(fields=["name", "id"], name="customer_name"),
            models.Index(Lower("email"), name="customer_email"),
        ]

    def __str__(self):
        return self.name

    @property
    def address_lines(self):
        """The postal address as it stands on a letter, below the name and without the country."""
        return address_lines(self.address, self.postcode, self.town, self.country)

    @property
    def shown(self):
        return f"{self.name} ({self.company})" if self.company else self.name

    def remember_keys(self):
        """What it is found by follows from what it says; whoever writes rows past `save` calls this first."""
        self.phone_digits = digits_of(self.phone)
        said = [self.name, self.phone_digits, self.company, self.email]
        self.search_key = folded(" ".join(said))[:LONGEST_KEY]

    def save(self, *args, **kwargs):
        self.remember_keys()
        fields = kwargs.get("update_fields")
        if fields is not None:
            kwargs["update_fields"] = {*fields, "phone_digits", "search_key"}
        is_new = self._state.adding
        super().save(*args, **kwargs)
        if not is_new:
            for function in hooks.after_renaming:
                function(self)
