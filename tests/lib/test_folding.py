"""Text and telephone numbers as people remember them. Country code lengths: ITU-T E.164, from memory."""

import pytest

from shop.lib.folding import digits_of, folded, phone_guesses, phones_agree, serial_key


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("  Zoë   ÅSTRÖM ", "zoe astrom"),
        ("Łódź", "lodz"),
        ("Straße", "strasse"),
        ("Søren Æsop", "soren aesop"),
        ("", ""),
    ],
)
def test_case_accents_and_spacing_do_not_matter(typed, kept):
    assert folded(typed) == kept


@pytest.mark.parametrize(
    ("typed", "digits"),
    [
        ("+44 1632 960123", "441632960123"), ("0044 1632 960123", "441632960123"), ("01632/960-123", "01632960123"),
        ("+44 (0)1632 960123", "441632960123"), ("(01632) 960123", "01632960123"), ("", ""), ("none", ""),
    ],
)  # fmt: skip
def test_digits_of_a_telephone_number(typed, digits):
    assert digits_of(typed) == digits


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("441632960123", "01632960123", True), ("01632960123", "441632960123", True), ("960123", "960123", False),
        ("01632960123", "01632960124", False), ("441632960123", "331632960123", False),
        ("0000441632960123", "1632960123", True), ("1234441632960123", "1632960123", False), ("", "", False),
    ],
)  # fmt: skip
def test_two_ways_to_write_one_number(one, other, same):
    assert phones_agree(one, other) is same


def test_a_number_with_its_country_finds_one_without():
    assert any("01632960123".find(guess) >= 0 for guess in phone_guesses("+44 1632 960123"))


def test_few_digits_are_no_guess():
    assert phone_guesses("12") == []


@pytest.mark.parametrize("typed", ["LR-0412", "lr 0412", "LR0412", " Lr/0412 "])
def test_serial_numbers_are_compared_by_letters_and_figures(typed):
    assert serial_key(typed) == "lr0412"
