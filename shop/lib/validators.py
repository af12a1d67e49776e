"""Numbers that carry a check digit, and codes from a list: validators for models and forms, and their plain forms."""

from django.core.exceptions import ValidationError
from stdnum import bic, get_cc_module, iban
from stdnum.eu import vat as eu_vat
from stdnum.exceptions import InvalidChecksum, InvalidFormat, InvalidLength
from stdnum.exceptions import ValidationError as NotValid

from shop.lib import currencies
from shop.lib.countries import OTHERWISE, country_codes
from shop.lib.money import WITH_THOUSANDTHS

EU_PREFIXES = frozenset(eu_vat.MEMBER_STATES) | {"el", "eu"}  # Greece writes EL; EU is the one-stop scheme


def valid_iban(value):
    """ISO 13616, with its country's length and check digits. Spaces are welcome."""
    _checked(iban, value, "This is not a valid IBAN", "Compare it with the bank's paper.")


def valid_bic(value):
    """ISO 9362."""
    _checked(bic, value, "This is not a valid BIC", "It has 8 or 11 letters and figures.")


def valid_vat_number(value):
    """A VAT number with its country's two letters in front, such as DE136695976 or GB980780684."""
    code, number = value.strip()[:2].upper(), value.strip()[2:]
    if not code.isalpha():
        raise ValidationError("A VAT number begins with its country's two letters, such as DE.")
    module = eu_vat if code.lower() in EU_PREFIXES else get_cc_module(code, "vat")
    if module is None:
        raise ValidationError(f"VAT numbers of {code} are not known here; leave it out, and write it in the address.")
    whole = module is eu_vat or code == "CH"  # their numbers are checked with the letters on
    _checked(module, value if whole else number, "This is not a valid VAT number", "Compare it with the firm's paper.")


def valid_country(value):
    if value in OTHERWISE:
        raise ValidationError(f"Write {OTHERWISE[value]} for {value}: so ISO 3166 calls that country.")
    if value not in country_codes():
        raise ValidationError("There is no such country: write the two capital letters of ISO 3166, such as DE.")


def valid_currency(value):
    if not (len(value) == 3 and value.isascii() and value.isalpha() and value.isupper()):
        raise ValidationError("Write the three capital letters of ISO 4217, such as EUR.")
    if value not in currencies.CODES:
        raise ValidationError(f"ISO 4217 knows no currency {value}. Write its three letters, such as EUR, GBP or CHF.")
    if value in WITH_THOUSANDTHS:
        raise ValidationError(f"{value} is counted in thousandths, which this app does not do.")


def plain_iban(value):
    """The IBAN without spaces, as machines read it."""
    return iban.compact(value)


def grouped_iban(value):
    """The IBAN in groups of four, as people read it."""
    return iban.format(value)


def is_valid(validator, value):
    try:
        validator(value)
    except ValidationError:
        return False
    return True


def _checked(module, value, problem, advice):
    try:
        module.validate(value)
    except InvalidChecksum as error:
        raise ValidationError(f"{problem}: its check digits do not fit. {advice}") from error
    except (InvalidLength, InvalidFormat) as error:
        raise ValidationError(f"{problem}: it has too many, too few or wrong characters. {advice}") from error
    except NotValid as error:
        raise ValidationError(f"{problem}. {advice}") from error
