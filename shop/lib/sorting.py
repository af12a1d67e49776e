"""Lists in columns: which of them a list is sorted by stands in its address, as ?sort=name or ?sort=-name.

A list that may hold every row of the shop is only sorted by what an index carries; columns that would sort all rows by
hand are offered once something narrows the list.
"""

from dataclasses import dataclass
from operator import attrgetter, itemgetter

from django.db.models.expressions import OrderBy


@dataclass(frozen=True)
class Column:
    """A column of a list. `by` is its order on the way up, empty where it cannot be sorted by.

    `down` starts with the last one first, as people expect of days and amounts. `narrow` waits until the list is
    narrowed down.
    """

    key: str
    label: str
    by: tuple = ()
    css: str = ""
    down: bool = False
    narrow: bool = False


@dataclass(frozen=True)
class Head:
    """A column's head on the page: `to` is what its link asks for, `stands` the value of aria-sort."""

    label: str
    css: str
    to: str = ""
    stands: str = ""


class Sorting:
    """How one list is sorted now. `usual` is asked for when the address asks nothing that is known."""

    def __init__(self, columns, asked, *, usual, is_narrow=True):
        self.columns = columns
        self.offered = {one.key: one for one in columns if one.by and (is_narrow or not one.narrow)}
        self.now = asked if str(asked or "").removeprefix("-") in self.offered else usual
        self.is_down = self.now.startswith("-")
        self.column = self.offered[self.now.removeprefix("-")]

    @property
    def order_by(self):
        """What a queryset's `order_by` takes."""
        return tuple(_turned(one) for one in self.column.by) if self.is_down else self.column.by

    def rows(self, rows):
        """`rows` that the database does not sort, by what their columns name; one without a value stays last."""
        for name in reversed(self.column.by):
            is_down = name.startswith("-") != self.is_down
            values = [(attrgetter(name.removeprefix("-"))(row), row) for row in rows]
            there = sorted((one for one in values if one[0] is not None), key=itemgetter(0), reverse=is_down)
            rows = [row for _, row in there] + [row for value, row in values if value is None]
        return rows

    @property
    def heads(self):
        return [self._head(one) for one in self.columns]

    def _head(self, column):
        if column.key not in self.offered:
            return Head(column.label, column.css)
        if column is not self.column:
            return Head(column.label, column.css, f"-{column.key}" if column.down else column.key)
        turned = column.key if self.is_down else f"-{column.key}"
        return Head(column.label, column.css, turned, "descending" if self.is_down else "ascending")

    @property
    def choices(self):
        """[(value, words)] of every way to sort, for a list that shows no heads."""
        return [
            (f"{sign}{key}", f"{one.label.lower()}, {'downwards' if sign else 'upwards'}")
            for key, one in self.offered.items()
            for sign in (("-", "") if one.down else ("", "-"))
        ]


def _turned(one):
    """The same order the other way round; rows without a value stay last."""
    if isinstance(one, OrderBy):
        turned = one.copy()
        turned.descending = not one.descending
        return turned
    return one[1:] if one.startswith("-") else f"-{one}"
