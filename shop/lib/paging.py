"""Lists in pages; a page number that is nonsense or too high shows the nearest page there is."""

from functools import cached_property

from django.core.paginator import Paginator
from django.db.models import QuerySet

PER_PAGE = 40
MOST = 1_000  # rows that are counted and turned through; whoever looks for more asks for less


def picked(rows, shown, first=0, last=None):
    """`rows[first:last]` as `shown` has them: with what they are joined to, or with what is counted beside them.

    They are picked by their keys alone. To join thousands of rows in order to sort them and show forty takes its time.
    """
    found = shown.filter(pk__in=rows.values("pk")[first:last])
    found = found.order_by(*rows.query.order_by) if rows.query.order_by else found
    return found if rows.query.standard_ordering else found.reverse()


class BoundedPaginator(Paginator):
    """Pages over the first `MOST` rows: nobody turns more, and counting hundreds of thousands takes its time."""

    shown = None  # how the rows of a page are shown, see `picked`

    def page(self, number):
        page = super().page(number)
        if self.shown is not None:
            first = page.start_index() - 1 if self.count else 0
            page.object_list = picked(self.object_list, self.shown, first, page.end_index())
        return page

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
    paginator.shown = shown
    return paginator.get_page(request.GET.get("page"))
