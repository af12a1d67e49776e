"""Lists in pages; a page number that is nonsense or too high shows the nearest page there is."""

from django.core.paginator import Paginator

PER_PAGE = 40


def page_of(request, rows, per_page=PER_PAGE):
    return Paginator(rows, per_page).get_page(request.GET.get("page"))
