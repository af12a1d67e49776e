"""IBAN, BIC, VAT numbers and codes are checked where they are typed."""

import pytest
from django.core.exceptions import ValidationError
from stdnum import isin

from shop.lib import validators
from shop.lib.countries import country_codes

# ISO 13616 examples, mod-97 verified; that they are the registry's own examples: from memory.
IBANS = [
    "DE89370400440532013000", "GB29NWBK60161331926819", "FR1420041010050500013M02606", "AT611904300234573201",
    "CH9300762011623852957", "NL91ABNA0417164300", "ES9121000418450200051332", "IT60X0542811101000000123456",
]  # fmt: skip


@pytest.mark.parametrize("number", IBANS)
def test_good_ibans_pass_grouped_or_not(number):
    validators.valid_iban(number)
    validators.valid_iban(validators.grouped_iban(number))
    assert validators.plain_iban(validators.grouped_iban(number)) == number


@pytest.mark.parametrize(
    ("number", "said"),
    [
        ("DE89370400440532013001", "check digits do not fit"),  # remainder 28 by ISO 7064, computed
        ("DE8937040044053201300", "not a valid IBAN"),
        ("none", "not a valid IBAN"),
    ],
)
def test_bad_ibans_are_explained(number, said):
    with pytest.raises(ValidationError, match=said):
        validators.valid_iban(number)


@pytest.mark.parametrize("number", ["DE136695976", "ATU13585627", "GB980780684", "CHE-107.787.577 MWST"])
def test_good_vat_numbers_pass(number):
    """Numbers from the documentation of python-stdnum 2.2 (read there)."""
    validators.valid_vat_number(number)


@pytest.mark.parametrize(
    ("number", "said"),
    [
        ("DE136695977", "check digits do not fit"),
        ("136695976", "two letters"),
        ("US123", "not known here"),
        ("DE1", "too many, too few"),
    ],
)
def test_bad_vat_numbers_are_explained(number, said):
    with pytest.raises(ValidationError, match=said):
        validators.valid_vat_number(number)


@pytest.mark.parametrize(("code", "good"), [("DEUTDEFF", True), ("DEUTDEFF500", True), ("DEUT", False), ("", False)])
def test_bics(code, good):
    assert validators.is_valid(validators.valid_bic, code) is good


GOOD = {"EUR": True, "JPY": True, "KWD": False, "eur": False, "E1R": False, "EUX": False}


@pytest.mark.parametrize(("code", "good"), GOOD.items())
def test_currencies(code, good):
    assert validators.is_valid(validators.valid_currency, code) is good


COUNTRIES = {"DE": True, "GB": True, "ZZ": False, "XY": False, "de": False, "DEU": False, "Ä1": False, "": False}


@pytest.mark.parametrize(("code", "good"), COUNTRIES.items())
def test_countries(code, good):
    assert validators.is_valid(validators.valid_country, code) is good


@pytest.mark.parametrize(("written", "code"), [("UK", "GB"), ("EL", "GR")])
def test_a_country_that_goes_by_another_code_is_told(written, code):
    """ISO 3166 has GB; Greece is EL in VAT numbers alone (Council Directive 2006/112/EC, article 215; from memory)."""
    with pytest.raises(ValidationError, match=f"Write {code} for {written}"):
        validators.valid_country(written)


CHANGED_SINCE = {"AN", "CS"}  # taken out of the standard in 2010 and 2006 (from memory)


def test_all_countries_of_the_standard_are_known():
    """ISO 3166-1 has 249 (from memory); python-stdnum keeps a list of its own for securities."""
    assert len(country_codes()) == 249
    theirs = {code for code in isin._iso_3116_1_country_codes if code not in CHANGED_SINCE}
    assert country_codes() >= theirs
