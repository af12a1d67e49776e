"""The owner's figures as tables: heads, rows, and what each says in a sentence. Charts and CSV are made from these."""

import itertools
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shop.figures import sums
from shop.figures.kept import sums_of
from shop.figures.models import Question
from shop.lib.dates import today
from shop.lib.money import rounded
from shop.stock.models import ItemKind

HUNDRED, NONE = Decimal(100), Decimal("0.00")
PERIODS = (12, 24, 60)
MOST_WORK = 12


@dataclass(frozen=True)
class Table:
    """`rows` are lists as `heads` name them, the month first where there is one."""

    key: str
    heads: list
    rows: list

    def column(self, number):
        return [row[number] for row in self.rows]


def months_back(count, last=None):
    """The first days of the last `count` months, oldest first."""
    last = last or today()
    found = []
    for back in range(count - 1, -1, -1):
        month = last.year * 12 + last.month - 1 - back
        found.append(date(month // 12, month % 12 + 1, 1))
    return found


def by_month(rows, months, make, empty=None):
    """[[month, *make(row)]] for every month, with `make({})` where there is no row."""
    found = {row["month"]: row for row in rows}
    return [[month, *make(found.get(month, {}))] for month in months]


def turnaround(months, rows):
    def make(row):
        steps = [row.get(f"days_{n}", 0) for n in sums.DAYS]
        apart = [steps[0], *(b - a for a, b in itertools.pairwise(steps))]
        count = row.get("count", 0)
        return [*apart, count - steps[-1], round(row["days"] / count, 1) if count else None]

    heads = ["month", "within 3 days", "4 to 7", "8 to 14", "15 to 28", "longer", "mean, days"]
    return Table("turnaround", heads, by_month(rows, months, make))


def lateness(months, rows):
    def make(row):
        steps = [row.get(f"late_{n}", 0) for n in sums.LATE_DAYS]
        return [steps[0], steps[1] - steps[0], steps[2] - steps[1], row.get("promised", 0) - steps[2]]

    heads = ["month", "as promised", "1 to 3 days late", "4 to 7", "longer"]
    return Table("lateness", heads, by_month(rows, months, make))


def net(row):
    """A row's sum without discount and tax, unrounded."""
    told = Decimal(row["sum"]) * (HUNDRED - Decimal(row["discount"])) / HUNDRED
    return told * HUNDRED / (HUNDRED + Decimal(row["tax_rate"])) if row["with_tax"] else told


def revenue(months, rows):
    found = {(month, kind): NONE for month in months for kind in ItemKind.values}
    for row in rows:
        found[row["month"], row["kind"]] = found.get((row["month"], row["kind"]), NONE) + net(row)
    made = [[month, *(rounded(found[month, kind]) for kind in ItemKind.values)] for month in months]
    return Table("revenue", ["month", "work", "parts", "string sets"], [[*row, sum(row[1:])] for row in made])


def margin(taken, months, cost_rows):
    """Parts and strings: what was billed (of a revenue Table), what left the shelf at cost, and what lies between."""
    gone = {row["month"]: (rounded(Decimal(row["total"])), row["unknown"]) for row in cost_rows}
    rows = []
    for month, _work, parts, strings, _all in taken.rows:
        billed, (cost, unknown) = parts + strings, gone.get(month, (NONE, 0))
        rows.append([month, billed, cost, billed - cost, unknown])
    return Table("margin", ["month", "billed", "cost", "margin", "movements without a known cost"], rows)


def work(rows):
    """The kinds of work that brought most, and how often each was done."""
    found = {}
    for row in rows:
        if row["kind"] == ItemKind.WORK:
            amount, count = found.get(row["what"], (NONE, Decimal(0)))
            found[row["what"]] = amount + net(row), count + Decimal(row["count"])
    best = sorted(found.items(), key=lambda one: -one[1][0])
    return Table("work", ["work", "revenue", "times"], [[text, rounded(sum_), n] for text, (sum_, n) in best])


def hours(months, estimated, spent):
    told = {row["month"]: (row["minutes"], row["count"]) for row in estimated}
    took = dict.fromkeys(months, 0.0) | {row["month"]: row["seconds"] / 3600 for row in spent}
    rows = []
    for month in months:
        minutes, count = told.get(month, (0, 0))
        rows.append([month, round(minutes / 60, 1), round(took[month], 1), count])
    return Table("hours", ["month", "hours estimated", "hours spent", "orders with time"], rows)


def returns(months, rows):
    def make(row):
        count, back = row.get("count", 0), row.get("returned", 0)
        return [count - back, back]

    heads = ["month", "stayed away", "back within 90 days"]
    return Table("returns", heads, by_month(rows, months, make))


def drift(rows):
    found = {key: [row for row in rows if row["key"] == key] for key in sums.MOVES_OF}
    made = [
        [said, "cents" if key == "octave" else "mm", *_together(found[key])]
        for key, said in sums.MOVES_OF.items()
        if found[key]
    ]
    return Table("drift", ["reading", "unit", "readings", "least", "mean", "most", "mean size"], made)


def _together(rows):
    """Count, least, mean, most and mean size over the months that `rows` are of."""
    count = sum(row["count"] for row in rows)
    mean, size = (sum(row[name] * row["count"] for row in rows) / count for name in ("mean", "size"))
    return count, min(row["least"] for row in rows), mean, max(row["most"] for row in rows), size


def tables_of(count, branch=None):
    """{key: Table} over the last `count` months, of one branch or of all."""
    months = months_back(count)
    return all_tables(months, sums_of(months, branch))


def all_tables(months, found):
    """{key: Table} over `months`, made of their sums."""
    turned, billed = found[Question.TURNAROUND], found[Question.BILLED]
    taken = revenue(months, billed)
    made = (
        turnaround(months, turned), lateness(months, turned), taken, margin(taken, months, found[Question.COST]),
        work(billed), hours(months, found[Question.ESTIMATED], found[Question.SPENT]),
        returns(months, found[Question.RETURNS]), drift(found[Question.DRIFT]),
    )  # fmt: skip
    return {table.key: table for table in made}
