"""Records that may be the same as what is being typed at the counter."""

from dataclasses import dataclass

from shop.instruments.models import Instrument
from shop.people.models import Customer

MOST = 4


@dataclass(frozen=True)
class Alike:
    """`customers` are (Customer, why), `instruments` Instruments with the same serial number."""

    customers: list
    instruments: list


def alike(*, phone="", email="", serial=""):
    """Who and what is on file with the same telephone, e-mail or serial number. At most five queries."""
    found = {}
    for why, same in (
        ("the same telephone number", Customer.objects.with_telephone(phone)),
        ("the same e-mail address", Customer.objects.with_email(email)),
    ):
        for customer in same[:MOST]:
            found.setdefault(customer.pk, (customer, []))[1].append(why)
    customers = [(customer, " and ".join(whys)) for customer, whys in found.values()]
    return Alike(customers, list(Instrument.objects.with_serial(serial).select_related("customer")[:MOST]))
