"""Lists in pages; a page number that is nonsense or too high shows the nearest page there is."""

from functools import cached_property

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.db.models.functions import Coalesce

PER_PAGE = 40
FEW = 10_000  # rows that are sorted at once
MOST = 1_000  # rows that are counted and turned through; whoever looks for more asks for less


def picked(rows, shown, first=0, last=None):
    """`rows[first:last]` as `shown` has them: with what they are joined to, or with what is counted beside them.

    They are picked by their keys alone. To join thousands of rows in order to sort them and show forty takes its time.
    """
    found = shown.filter(pk__in=rows.values("pk")[first:last])
    found = found.order_by(*rows.query.order_by) if rows.query.order_by else found
    return found if rows.query.standard_ordering else found.reverse()


def apart(rows):
    """`rows` in the same order, sorted once they are found.

    For few rows that lie anywhere: a server that sees an index in that order may read all of it to come upon them.
    """
    first, *others = rows.query.order_by or rows.model._meta.ordering
    if not isinstance(first, str):  # an expression already
        return rows
    name = first.removeprefix("-")
    found = Coalesce(name, name)  # itself, which no index is made of
    return rows.order_by(found.desc() if first.startswith("-") else found.asc(), *others)


class BoundedPaginator(Paginator):
    """Pages over the first `MOST` rows: nobody turns more, and counting hundreds of thousands takes its time."""

    shown = None  # how the rows of a page are shown, see `picked`
    sought = False  # whether they were found by what somebody typed

    def page(self, number):
        page = super().page(number)
        if self.shown is not None:
            first = page.start_index() - 1 if self.count else 0
            rows = apart(self.object_list) if self.sought and self._are_few else self.object_list
            page.object_list = picked(rows, self.shown, first, page.end_index())
        return page

    @property
    def _are_few(self):
        """Whether sorting all that was found is soon done."""
        return not self.has_more or self.object_list.order_by()[: FEW + 1].count() <= FEW

    @cached_property
    def counted(self):
        rows = self.object_list
        return rows.order_by()[: MOST + 1].count() if isinstance(rows, QuerySet) else len(rows)

    @cached_property
    def count(self):
        return min(self.counted, MOST) if isinstance(self.object_list, QuerySet) else self.counted

    @property
    def has_more(self):
        """Whether there are rows behind the last page."""
        return self.counted > self.count


def counted(rows, most=MOST):
    """How many there are, for people: a number, or that there are more than anybody looks through."""
    found = rows.order_by()[: most + 1].count()
    return found if found <= most else f"more than {most}"


def page_of(request, rows, per_page=PER_PAGE, *, shown=None):
    """The page that the address asks for; `shown`, a queryset over all rows, says what is fetched with those on it."""
    paginator = BoundedPaginator(rows, per_page)
    paginator.shown, paginator.sought = shown, bool(request.GET.get("q"))
    return paginator.get_page(request.GET.get("page"))
