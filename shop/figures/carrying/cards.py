"""Customers as address cards, RFC 6350."""

import vobject


def card_of(customer):
    """One customer as the text of a vCard 4.0."""
    card = vobject.vCard()
    card.add("version").value = "4.0"
    card.add("fn").value = customer.name
    first, _, last = customer.name.rpartition(" ")
    card.add("n").value = vobject.vcard.Name(family=last, given=first)
    if customer.company:
        card.add("org").value = [customer.company]
    for name, value in (("email", customer.email), ("tel", customer.phone)):
        if value:
            card.add(name).value = value
    if customer.address_lines or customer.country:
        card.add("adr").value = vobject.vcard.Address(
            street=customer.address, code=customer.postcode, city=customer.town, country=customer.country
        )
    return card.serialize()


def cards(customers):
    """Many cards, one after the other, made as they are asked for."""
    for customer in customers.iterator(chunk_size=500):
        yield card_of(customer)
