"""An invoice's amounts, against an independent computation in fractions and by hand."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from shop.billing.totals import Priced, totals

D = Decimal


def lines(*rows):
    return [Priced(text=f"line {n}", quantity=D(q), price=D(p), tax_rate=D(r)) for n, (q, p, r) in enumerate(rows)]


def test_prices_without_tax_add_tax_on_the_sum_of_a_rate():
    # By hand: 3 × 0.35 = 1.05 at 19 %: 0.1995 → 0.20. Tax of each line apart would give 3 × 0.07 = 0.21.
    found = totals(lines((1, "0.35", 19), (1, "0.35", 19), (1, "0.35", 19)), prices_include_tax=False)
    assert (found.net, found.tax, found.total) == (D("1.05"), D("0.20"), D("1.25"))


def test_prices_with_tax_total_what_the_customer_was_told():
    # By hand: 85.00 / 1.20 = 70.8333 → 70.83, tax 14.17.
    found = totals(lines((1, "85.00", 20)), prices_include_tax=True)
    assert (found.net, found.tax, found.total) == (D("70.83"), D("14.17"), D("85.00"))


def test_each_line_is_rounded_once():
    # By hand: 0.75 × 19.99 = 14.9925 → 14.99.
    found = totals(lines(("0.75", "19.99", 0)), prices_include_tax=False)
    assert found.lines[0].amount == found.total == D("14.99")


def test_rates_are_summed_apart_highest_first():
    found = totals(lines((1, 10, 7), (1, 100, 19), (1, 50, 0)), prices_include_tax=False)
    assert [(one.rate, one.base, one.tax) for one in found.rates] == [
        (D(19), D("100.00"), D("19.00")), (D(7), D("10.00"), D("0.70")), (D(0), D("50.00"), D("0.00")),
    ]  # fmt: skip


def test_one_rate_written_two_ways_is_one_rate():
    found = totals(lines((1, 10, "20.00"), (1, 10, "20")), prices_include_tax=False)
    assert len(found.rates) == 1


def test_a_discount_is_taken_off_each_rate():
    found = totals(lines((1, 100, 20), (1, 50, 5)), prices_include_tax=False, discount_percent=D(10))
    assert [(one.discount, one.base, one.tax) for one in found.rates] == [
        (D("10.00"), D("90.00"), D("18.00")), (D("5.00"), D("45.00"), D("2.25")),
    ]  # fmt: skip
    assert (found.sum, found.discount, found.total) == (D("150.00"), D("15.00"), D("155.25"))


def test_nothing_at_all_is_nothing():
    found = totals([], prices_include_tax=True)
    assert (found.lines, found.rates, found.total) == ((), (), D("0.00"))


def test_a_currency_without_cents_has_none():
    found = totals(lines((1, 1050, 10)), prices_include_tax=True, currency="JPY")
    # By hand: 1050 / 1.1 = 954.5454… → 955.
    assert (found.net, found.tax, found.total) == (D("955.00"), D("95.00"), D("1050.00"))


QUANTITIES = st.decimals("0.01", "9999", places=2)
PRICES = st.decimals("0", "9999.99", places=2)
RATES = st.sampled_from([D("0"), D("2.1"), D("5.50"), D("7"), D("7.70"), D("19"), D("20"), D("25"), D("27")])
LINES = st.lists(
    st.builds(Priced, text=st.just("work"), quantity=QUANTITIES, price=PRICES, tax_rate=RATES), max_size=12
)
DISCOUNTS = st.sampled_from([D(0), D("2.5"), D(10), D("33.33"), D(100)])


def cents(amount):
    """Half away from zero to whole cents, of a Fraction at or above zero, in whole-number arithmetic."""
    return (200 * amount.numerator + amount.denominator) // (2 * amount.denominator)


def by_fractions(priced, with_tax, discount):
    """(net, tax, total) in cents, computed apart from the code under test."""
    groups = {}
    for one in priced:
        groups.setdefault(Fraction(one.tax_rate), []).append(cents(Fraction(one.quantity) * Fraction(one.price)))
    net = tax = 0
    for rate, amounts in groups.items():
        told = sum(amounts) - cents(Fraction(sum(amounts), 100) * Fraction(discount) / 100)
        if with_tax:
            base = cents(Fraction(told, 100) / (1 + rate / 100))
            net, tax = net + base, tax + told - base
        else:
            net, tax = net + told, tax + cents(Fraction(told, 100) * rate / 100)
    return net, tax, net + tax


@settings(max_examples=300)
@given(LINES, st.booleans(), DISCOUNTS)
def test_amounts_equal_those_of_whole_number_arithmetic(priced, with_tax, discount):
    found = totals(priced, prices_include_tax=with_tax, discount_percent=discount)
    assert tuple(int(one * 100) for one in (found.net, found.tax, found.total)) == by_fractions(
        priced, with_tax, discount
    )


@settings(max_examples=200)
@given(LINES, st.booleans(), DISCOUNTS)
def test_the_sums_of_en_16931_hold(priced, with_tax, discount):
    """EN 16931, BR-CO-13 to -15 and, within the one unit of its published test, BR-CO-17 (read in the rule texts)."""
    found = totals(priced, prices_include_tax=with_tax, discount_percent=discount)
    assert found.net + found.tax == found.total
    assert found.tax == sum(one.tax for one in found.rates)
    assert found.sum == sum(one.amount for one in found.lines)
    assert found.sum - found.discount == (found.total if with_tax else found.net)
    for one in found.rates:
        exact = Fraction(one.base) * Fraction(one.rate) / 100
        assert abs(Fraction(one.tax) - exact) <= (Fraction(1, 100) if with_tax else Fraction(1, 200))
