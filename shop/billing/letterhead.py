"""The workshop as it stands at the head and foot of every paper."""

from shop.lib.addresses import address_lines
from shop.lib.validators import grouped_iban, is_valid, valid_iban

BUYER = ("name", "company", "address", "postcode", "town", "country", "vat_number", "buyer_reference")
FIELDS = ("name", "address", "country", "phone", "email", "website", "tax_number", "iban", "bic")
APART = " \u00a0·\u00a0 "


def seller_of(workshop):
    """The workshop's own details, to be kept in a snapshot."""
    return {name: getattr(workshop, name) for name in FIELDS}


def head_of(workshop):
    """What a paper that is made now prints of the workshop at its head and foot."""
    return {"seller": shown(seller_of(workshop), workshop.tax_name), "tax_name": workshop.tax_name}


def buyer_of(customer):
    """The customer's own details, to be kept in a snapshot."""
    return {name: getattr(customer, name) for name in BUYER}


def addressed(buyer):
    """The buyer of a snapshot, or such as one keeps, with the lines of the address."""
    lines = address_lines(buyer["address"], buyer.get("postcode", ""), buyer.get("town", ""), buyer["country"])
    return buyer | {"lines": lines}


def shown(seller, tax_name):
    """The seller with what templates print: the IBAN in groups, and the two lines of the foot."""
    iban = grouped_iban(seller["iban"]) if is_valid(valid_iban, seller["iban"]) else seller["iban"]
    bank = (
        f"IBAN {iban}" if iban else "", f"BIC {seller['bic']}" if seller["bic"] else "",
        f"{tax_name} number {seller['tax_number']}" if seller["tax_number"] else "",
    )  # fmt: skip
    reach = (seller["email"], seller["website"], seller["phone"])
    return seller | {
        "iban_grouped": iban, "reach": APART.join(filter(None, reach)), "bank": APART.join(filter(None, bank)),
    }  # fmt: skip
