"""The address of a record that was merged into another leads to that one."""

from django.contrib import messages
from django.http import HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse

# What is sent here takes something away: it is not carried out on a record that nobody looked at.
NEVER_FOLLOWED = ("-delete", "-erase")


class Moved(Exception):
    """Raised by what fetches a record; `page` is the name of its page."""

    def __init__(self, page, kept):
        super().__init__(page)
        self.page, self.kept = page, kept


class _Again(HttpResponseRedirect):
    status_code = 307  # the same method, with everything that was typed


class FollowMoved:
    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_exception(self, request, error):
        if not isinstance(error, Moved):
            return None
        match = request.resolver_match
        is_form = request.method not in ("GET", "HEAD")
        if is_form and match.url_name.endswith(NEVER_FOLLOWED):
            messages.warning(request, f"This record was merged into {error.kept} meanwhile. Nothing was taken away.")
            return redirect(error.page, error.kept.pk)
        if "pk" not in match.kwargs:
            return redirect(error.page, error.kept.pk)
        address = reverse(match.url_name, kwargs=match.kwargs | {"pk": error.kept.pk})
        query = f"?{request.GET.urlencode()}" if request.GET else ""
        return _Again(address + query) if is_form else redirect(address + query)
