"""A bare Django view: `startproject`'s own middleware, a signed-in person, and a list over an empty table.

And the same list within the workshop's own frame, its middleware and the head and foot of its pages: what a list adds.
"""

from contextlib import contextmanager
from functools import lru_cache

from django.contrib.auth.decorators import login_required
from django.db import connection, models
from django.http import HttpResponse
from django.template import Context, Engine, engines
from django.test import Client
from django.urls import path

from shop.staff.models import Person
from shop.urls import urlpatterns as workshop


class Nothing(models.Model):
    name = models.CharField(max_length=100)

    class Meta:
        app_label = "figures"
        managed = False
        db_table = "bare_list_of_nothing"


LIST = "<ul>{% for one in rows %}<li>{{ one.name }}</li>{% empty %}<li>Nothing.</li>{% endfor %}</ul>"
TEMPLATE = Engine().from_string("<!doctype html><title>List</title>" + LIST)


@login_required
def view(request):
    return HttpResponse(TEMPLATE.render(Context({"rows": Nothing.objects.order_by("name")[:40]})))


@lru_cache(maxsize=1)
def framed_template():
    return engines["django"].from_string('{% extends "base.html" %}{% block content %}' + LIST + "{% endblock %}")


def framed(request):
    return HttpResponse(framed_template().render({"rows": Nothing.objects.order_by("name")[:40]}, request))


FRAMED = "framed-list/"
urlpatterns = [path("", view), path(FRAMED, framed), *workshop]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]


@contextmanager
def there():
    """(settings under which `/` is the bare view, those under which `FRAMED` is), for as long as its table is there."""
    with connection.schema_editor() as editor:
        if Nothing._meta.db_table in connection.introspection.table_names():  # a run before was cut off
            editor.delete_model(Nothing)
        editor.create_model(Nothing)
    try:
        yield {"ROOT_URLCONF": __name__, "MIDDLEWARE": MIDDLEWARE}, {"ROOT_URLCONF": __name__}
    finally:
        with connection.schema_editor() as editor:
            editor.delete_model(Nothing)


def signed_in():
    client = Client(SERVER_NAME="127.0.0.1")
    client.force_login(Person.objects.filter(role="owner", is_active=True).first())
    return client
