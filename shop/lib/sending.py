"""What is sent while it is made, a few at once: the others that answer stay free for pages."""

import threading
import weakref

from django.http import StreamingHttpResponse
from django.shortcuts import render

AT_ONCE = 2  # half of those that answer in one web server, see shop/serve.py
PATIENCE_S = 1.0  # a small table is sent by then
AGAIN_AFTER_S = 30

_places = threading.BoundedSemaphore(AT_ONCE)


class TooManyAtOnce(Exception):
    """As many downloads as may be are under way."""


class Download(StreamingHttpResponse):
    """A file `name` for the browser to keep, sent as its pieces come. Raises TooManyAtOnce."""

    def __init__(self, name, pieces, content_type):
        if not _places.acquire(timeout=PATIENCE_S):
            raise TooManyAtOnce
        # Once: when it is closed, or when it is thrown away without ever having been sent.
        self._leave = weakref.finalize(self, _places.release)
        super().__init__(pieces, content_type=content_type)
        self["Content-Disposition"] = f'attachment; filename="{name}"'

    def close(self):
        super().close()
        self._leave()


class AskToWait:
    """Says so where no further download can be begun."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_exception(self, request, exception):
        if not isinstance(exception, TooManyAtOnce):
            return None
        answer = render(request, "errors/downloads.html", status=503)
        answer["Retry-After"] = str(AGAIN_AFTER_S)
        return answer
