"""The owner's page of figures: each table as a chart, with what it says in a sentence."""

from dataclasses import dataclass

from shop.figures import charts
from shop.figures.charts import Part
from shop.figures.tables import MOST_WORK, PERIODS, Table, all_tables
from shop.lib import money

LOOKS = ("fg-a", "fg-b", "fg-c", "fg-d", "fg-e")


@dataclass(frozen=True)
class Figure:
    """One chart. `svg` is empty when there is nothing to draw; `says` then says so."""

    table: Table
    title: str
    says: str
    note: str
    svg: str = ""
    legend: tuple = ()  # (look, name)
    cells: tuple = ()  # the table for reading

    @property
    def key(self):
        return self.table.key


def period_of(text):
    """How many months the address asks for."""
    return next((count for count in PERIODS if str(count) == text), PERIODS[0])


def figures(months, found):
    """Every Figure over `months`, made of their sums."""
    tables = all_tables(months, found)
    makers = (_turnaround, _lateness, _revenue, _margin, _work, _hours, _returns, _drift)
    return [make(tables[key]) for key, make in zip(tables, makers, strict=True)]


def _monthly(table, title, says, note, columns, *, side_by_side=False, shown=str, looks=LOOKS):
    months = table.column(0)
    chosen = zip(columns, looks, strict=False)
    parts = [Part(table.heads[number], look, table.column(number)) for number, look in chosen]
    drawn = any(any(part.values) for part in parts)
    svg = charts.columns(table.key, title, says, months, parts, side_by_side=side_by_side, shown=shown) if drawn else ""
    legend = tuple((part.look, part.name) for part in parts if any(part.values))
    return Figure(table, title, says, note, svg, legend, _cells(table))


def _cells(table):
    return tuple([f"{one:%b %Y}" if hasattr(one, "strftime") else _said(one) for one in row] for row in table.rows)


def _said(value):
    if value is None:
        return "–"
    return f"{value:.2f}" if isinstance(value, float) else str(value)


def _share(part, whole):
    return f"{100 * part / whole:.0f} %" if whole else "none"


def _turnaround(table):
    counts = [sum(table.column(number)) for number in range(1, 6)]
    whole = sum(counts)
    says = (
        f"{whole} orders became ready; {_share(counts[0] + counts[1], whole)} of them within a week of book-in."
        if whole else "No order became ready in this time."
    )  # fmt: skip
    return _monthly(table, "From book-in to ready", says, "By the day of the invoice.", (1, 2, 3, 4, 5))


def _lateness(table):
    kept, *late = (sum(table.column(number)) for number in range(1, 5))
    whole = kept + sum(late)
    says = f"{_share(kept, whole)} of {whole} promises were kept." if whole else "No promise fell into this time."
    looks = ("fg-a", "fg-c", "fg-late", "fg-later")
    return _monthly(table, "Promises kept", says, "Orders with a promised day only.", (1, 2, 3, 4), looks=looks)


def _revenue(table):
    says = f"{money.shown(sum(table.column(4)))} without tax." if any(table.column(4)) else "Nothing was invoiced yet."
    note = "Issued invoices less credit notes, without tax, after discounts."
    return _monthly(table, "Revenue", says, note, (1, 2, 3), shown=money.shown)


def _margin(table):
    billed, cost, left = (sum(table.column(number)) for number in (1, 2, 3))
    says = (
        f"{money.shown(billed)} billed for parts and strings, {money.shown(cost)} cost: {money.shown(left)} is left."
        if billed or cost else "No part was billed or taken from the shelf."
    )  # fmt: skip
    note = "Cost as it was when a part left the shelf; an order billed in another month shows there."
    if sum(table.column(4)):
        note += f" {sum(table.column(4))} movements have no known cost and count as nothing."
    return _monthly(table, "Parts: billed and cost", says, note, (1, 2), side_by_side=True, shown=money.shown,
                    looks=("fg-a", "fg-c"))  # fmt: skip


def _work(table):
    rows = [(text, amount, f"{money.shown(amount)}, {money.quantity(times)} times")
            for text, amount, times in table.rows[:MOST_WORK] if amount > 0]  # fmt: skip
    says = f"“{rows[0][0]}” brought most." if rows else "No work was invoiced yet."
    svg = charts.lying("work", "Kinds of work", says, rows, shown=money.shown) if rows else ""
    return Figure(table, "Kinds of work", says, "Without tax, after discounts.", svg, (), _cells(table))


def _hours(table):
    told, spent = sum(table.column(1)), sum(table.column(2))
    says = (
        f"{told:g} hours were estimated and {spent:g} spent on {sum(table.column(3))} orders."
        if spent else "No signed worksheet has kept its time yet."
    )  # fmt: skip
    note = "Only orders whose signed worksheet kept time. Two people at one step count twice."
    return _monthly(table, "Hours: estimated and spent", says, note, (1, 2), side_by_side=True,
                    shown=lambda value: f"{value:g} h", looks=("fg-c", "fg-a"))  # fmt: skip


def _returns(table):
    away, back = sum(table.column(1)), sum(table.column(2))
    says = (
        f"{back} of {away + back} instruments were booked in again within 90 days of being collected."
        if away + back else "Nothing was collected in this time."
    )  # fmt: skip
    note = "By the month of collection; the last three months are not over yet."
    return _monthly(table, "Back within 90 days", says, note, (1, 2), looks=("fg-a", "fg-late"))


def _drift(table):
    rows = [(f"{said}, {count} readings", least, mean, most, unit)
            for said, unit, count, least, mean, most, _size in table.rows]  # fmt: skip
    says = (
        "; ".join(f"{said} moved by {size:.2f} {unit} on average" for said, unit, *_, size in table.rows) + "."
        if rows else "No instrument with a signed worksheet has come back and been read yet."
    ).replace("octave", "the octave")  # fmt: skip
    note = "As received less as left at the visit before. Each bar has its own scale; the dot is the mean."
    svg = charts.spans("drift", "How far readings move between visits", says, rows) if rows else ""
    return Figure(table, "How far readings move", says[:1].upper() + says[1:], note, svg, (), _cells(table))
