"""What goes out compressed."""

from django.middleware.gzip import GZipMiddleware

OF_WORDS = ("text/", "application/json", "application/xml", "image/svg+xml")


class PackWords(GZipMiddleware):
    """Pages and tables; static files are compressed when they are collected. Pictures, papers and archives are as small
    as they get: to compress them again takes its time and hides from the browser how long they are."""

    def process_response(self, request, response):
        if not response.get("Content-Type", "").startswith(OF_WORDS):
            return response
        return super().process_response(request, response)
