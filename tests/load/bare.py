"""A bare Django view behind the same web server: what the machine can do at all, measured in the same run."""

import sys

from django.conf import settings
from django.core.wsgi import get_wsgi_application
from django.http import HttpResponse
from django.urls import path
from waitress import serve

settings.configure(ROOT_URLCONF=__name__, ALLOWED_HOSTS=["127.0.0.1"], SECRET_KEY="of no use")
urlpatterns = [path("", lambda request: HttpResponse("here"))]

if __name__ == "__main__":
    serve(get_wsgi_application(), host="127.0.0.1", port=int(sys.argv[1]), threads=4, ident=None)
