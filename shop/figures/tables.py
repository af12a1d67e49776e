"""The owner's figures as tables: heads, rows, and what each says in a sentence. Charts and CSV are made from these."""

import itertools
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shop.figures import sums
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
    found = {_day(row["month"]): row for row in rows}
    return [[month, *make(found.get(month, {}))] for month in months]


def _day(moment):
    return moment.date() if hasattr(moment, "hour") else moment


def turnaround(months, rows):
    def make(row):
        steps = [row.get(f"days_{n}", 0) for n in sums.DAYS]
        apart = [steps[0], *(b - a for a, b in itertools.pairwise(steps))]
        mean = row.get("mean")
        return [*apart, row.get("count", 0) - steps[-1], round(mean.total_seconds() / 86400, 1) if mean else None]

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
    told = row["sum"] * (HUNDRED - row["discount"]) / HUNDRED
    return told * HUNDRED / (HUNDRED + row["tax_rate"]) if row["with_tax"] else told


def revenue(months, rows):
    found = {(month, kind): NONE for month in months for kind in ItemKind.values}
    for row in rows:
        found[_day(row["month"]), row["kind"]] = found.get((_day(row["month"]), row["kind"]), NONE) + net(row)
    made = [[month, *(rounded(found[month, kind]) for kind in ItemKind.values)] for month in months]
    return Table("revenue", ["month", "work", "parts", "string sets"], [[*row, sum(row[1:])] for row in made])


def margin(taken, months, cost_rows):
    """Parts and strings: what was billed (of a revenue Table), what left the shelf at cost, and what lies between."""
    costs = dict.fromkeys(months, NONE)
    unknown = dict.fromkeys(months, 0)
    for row in cost_rows:
        month = _day(row["month"])
        costs[month] = costs.get(month, NONE) + (row["total"] or NONE)
        unknown[month] = unknown.get(month, 0) + row["unknown"]
    rows = []
    for month, _work, parts, strings, _all in taken.rows:
        billed, cost = parts + strings, rounded(costs[month])
        rows.append([month, billed, cost, billed - cost, unknown[month]])
    return Table("margin", ["month", "billed", "cost", "margin", "movements without a known cost"], rows)


def work(rows):
    """The kinds of work that brought most, and how often each was done."""
    found = {}
    for row in rows:
        amount, count = found.get(row["text"], (NONE, Decimal(0)))
        sign = 1 if row["sum"] >= 0 else -1  # a credit note takes its work back
        found[row["text"]] = amount + net(row), count + sign * row["count"]
    best = sorted(found.items(), key=lambda one: -one[1][0])
    return Table("work", ["work", "revenue", "times"], [[text, rounded(sum_), n] for text, (sum_, n) in best])


def hours(months, estimated, spent):
    told = {_day(row["month"]): (row["minutes"] or 0, row["count"]) for row in estimated}
    took = dict.fromkeys(months, 0.0) | {_day(row["month"]): row["seconds"] / 3600 for row in spent}
    rows = []
    for month in months:
        minutes, count = told.get(month, (0, 0))
        rows.append([month, round(minutes / 60, 1), round(took[month], 1), count])
    return Table("hours", ["month", "hours estimated", "hours spent", "orders with time"], rows)


def returns(months, rows):
    def make(row):
        count, back = row.get("count", 0), row.get("returned") or 0
        return [count - back, back]

    heads = ["month", "stayed away", "back within 90 days"]
    return Table("returns", heads, by_month(rows, months, make))


def drift(rows):
    found = {row["key"]: row for row in rows}
    made = [
        [said, "cents" if key == "octave" else "mm", row["count"], row["least"], row["mean"], row["most"], row["size"]]
        for key, said in sums.MOVES_OF.items()
        if (row := found.get(key))
    ]
    return Table("drift", ["reading", "unit", "readings", "least", "mean", "most", "mean size"], made)


def all_tables(count, branch=None):
    """{key: Table} over the last `count` months, of one branch or of all. Nine questions of the database."""
    months = months_back(count)
    since = months[0]
    turned = list(sums.turnaround(since, branch))
    taken = revenue(months, sums.revenue(since, branch))
    made = (
        turnaround(months, turned), lateness(months, turned), taken,
        margin(taken, months, sums.cost(since, branch)), work(sums.work(since, branch)),
        hours(months, sums.estimated(since, branch), sums.spent(since, branch)),
        returns(months, sums.returns(since, branch)), drift(sums.drift(since, branch)),
    )  # fmt: skip
    return {table.key: table for table in made}
