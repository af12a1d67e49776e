"""A bare Django view: `startproject`'s own middleware, a signed-in person, and a list over an empty table."""

from contextlib import contextmanager

from django.contrib.auth.decorators import login_required
from django.db import connection, models
from django.http import HttpResponse
from django.template import Context, Engine
from django.test import Client
from django.urls import path

from shop.staff.models import Person


class Nothing(models.Model):
    name = models.CharField(max_length=100)

    class Meta:
        app_label = "figures"
        managed = False
        db_table = "bare_list_of_nothing"


TEMPLATE = Engine().from_string(
    "<!doctype html><title>List</title><ul>{% for one in rows %}<li>{{ one.name }}</li>{% empty %}<li>Nothing.</li>"
    "{% endfor %}</ul>"
)


@login_required
def view(request):
    return HttpResponse(TEMPLATE.render(Context({"rows": Nothing.objects.order_by("name")[:40]})))


urlpatterns = [path("", view)]
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
    """The settings under which `/` is the bare view, for as long as its table is there."""
    with connection.schema_editor() as editor:
        if Nothing._meta.db_table in connection.introspection.table_names():  # a run before was cut off
            editor.delete_model(Nothing)
        editor.create_model(Nothing)
    try:
        yield {"ROOT_URLCONF": __name__, "MIDDLEWARE": MIDDLEWARE}
    finally:
        with connection.schema_editor() as editor:
            editor.delete_model(Nothing)


def signed_in():
    client = Client(SERVER_NAME="127.0.0.1")
    client.force_login(Person.objects.filter(role="owner", is_active=True).first())
    return client
