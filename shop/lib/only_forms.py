"""An address that only takes a form, opened by itself: a page with the way to where it belongs, not a blank one.

So it happens to whoever sent a form that was not taken, and then asks the browser for that address again.
"""

from django.shortcuts import render
from django.urls import Resolver404, resolve

LOOKS = ("GET", "HEAD")


class TellWhereTo:
    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        answer = self.get_response(request)
        if answer.status_code != 405 or request.method not in LOOKS or answer.content:
            return answer
        told = render(request, "405.html", {"back": page_above(request.path)}, status=405)
        told["Allow"] = answer["Allow"]
        return told


def page_above(path):
    """The nearest address above `path` that there is."""
    parts = path.strip("/").split("/")
    for count in range(len(parts) - 1, 0, -1):
        above = f"/{'/'.join(parts[:count])}/"
        try:
            resolve(above)
        except Resolver404:
            continue
        return above
    return "/"
