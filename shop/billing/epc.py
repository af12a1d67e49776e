"""The payment code of a euro invoice: a QR code after EPC069-12 that a bank's app reads as a filled-in transfer."""

from decimal import Decimal

from segno import helpers

from shop.lib.validators import is_valid, plain_iban, valid_bic, valid_iban

LONGEST_NAME, LONGEST_TEXT = 70, 140
LEAST, MOST = Decimal("0.01"), Decimal("999999999.99")


def payment_code(kept, number):
    """The code as a data: address of an SVG, or None where it cannot be made: not euro, no valid IBAN, nothing due."""
    seller, due = kept["seller"], Decimal(kept["due"])
    if kept["currency"] != "EUR" or not is_valid(valid_iban, seller["iban"]) or not LEAST <= due <= MOST:
        return None
    bic = seller["bic"].replace(" ", "")
    code = helpers.make_epc_qr(
        name=seller["name"][:LONGEST_NAME],
        iban=plain_iban(seller["iban"]),
        amount=due,
        text=f"Invoice {number}"[:LONGEST_TEXT],
        bic=bic if bic and is_valid(valid_bic, bic) else None,
        encoding="utf-8",
    )
    return code.svg_data_uri(border=2, dark="#2a2420", svgclass=None, lineclass=None)
