"""Lists in pages; a page number that is nonsense or too high shows the nearest page there is."""

from functools import cached_property

from django.core.paginator import Paginator
from django.db.models import QuerySet

PER_PAGE = 40
MOST = 1_000  # rows that are counted and turned through; whoever looks for more asks for less


class BoundedPaginator(Paginator):
    """Pages over the first `MOST` rows: nobody turns more, and counting hundreds of thousands takes its time."""

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


def page_of(request, rows, per_page=PER_PAGE):
    return BoundedPaginator(rows, per_page).get_page(request.GET.get("page"))
