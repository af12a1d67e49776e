"""An invoice without tax to a firm in another member state: when it can be, and what it says.

Directive 2006/112/EC: services to a taxable person abroad are taxed there and owed by the recipient (articles 44, 196);
goods that go to one are exempt here (article 138). Which of the two holds, if any, the workshop and its adviser decide;
the app sees only to it that what the invoice needs is there: both VAT numbers and two different member states.
From memory; the codes are those of UNTDID 5305 and of the VATEX list, as EN 16931 uses them.
"""

from django.db import models
from stdnum.eu import vat as eu_vat

from shop.lib.validators import is_valid, valid_vat_number

GREECE = {"el": "GR"}  # its VAT numbers have letters of their own


class Treatment(models.TextChoices):
    REVERSE = "AE", "service, reverse charge"
    GOODS = "K", "goods, intra-Community supply"


USUAL = ""
REASONS = {
    Treatment.REVERSE: "Reverse charge: the tax is owed by the recipient.",
    Treatment.GOODS: "Intra-Community supply, exempt from tax.",
}
SHORT = {Treatment.REVERSE: "reverse charge", Treatment.GOODS: "intra-Community supply"}
CODES = {Treatment.REVERSE: "VATEX-EU-AE", Treatment.GOODS: "VATEX-EU-IC"}


def why_not(customer, workshop):
    """What stands against billing `customer` without tax, a sentence; '' when nothing that the app can see."""
    if not is_valid(valid_vat_number, workshop.tax_number) or not member_state(workshop.tax_number):
        return "The workshop’s own VAT number of a member state is missing; the owner writes it in its details."
    if not is_valid(valid_vat_number, customer.vat_number) or not member_state(customer.vat_number):
        return f"{customer.name} has no VAT number of a member state on file."
    if member_state(customer.vat_number) == member_state(workshop.tax_number):
        return f"{customer.name} has a VAT number of the workshop’s own country."
    if not (customer.town and customer.country):
        return f"The town and country of {customer.name} are not written down; the invoice needs them."
    return ""


def member_state(vat_number):
    """The ISO 3166 code of the state that a VAT number is of; '' outside the Union."""
    code = vat_number.strip()[:2].lower()
    if code not in eu_vat.MEMBER_STATES and code not in GREECE:
        return ""
    return GREECE.get(code, code.upper())
