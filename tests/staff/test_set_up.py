"""The first set-up: led through once, left and taken up again, ended; and the logo."""

from io import BytesIO

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import call_command
from django.template import Context, Template
from PIL import Image

from shop.staff import setting_up
from shop.staff.models import Person, Workshop

pytestmark = pytest.mark.django_db


def seen(client, step):
    """What a browser sends of a step as it stands."""
    form = client.get(f"/set-up/{step}/").context["form"]
    shown = {name: form[name].value() for name in form.fields}
    typed = {name: value for name, value in shown.items() if value not in (None, False)}
    return typed | {f"initial-{name}": "" if value is None else value for name, value in shown.items()}


def test_step_by_step_once_more_goes_through_all_steps(as_person, ada):
    """From the workshop's details, when it was set up long ago."""
    client = as_person(ada)
    assert client.get("/set-up/")["Location"] == "/set-up/you/"
    assert client.post("/set-up/you/", {"shown_name": "Ada", "password": ""})["Location"] == "/set-up/shop/"
    assert client.post("/set-up/work/", seen(client, "work"))["Location"] == "/office/"


def test_a_first_start_without_the_demo_asks_for_it(client):
    call_command("first_start", verbosity=0)
    client.force_login(Person.objects.get())
    assert client.get("/")["Location"] == "/set-up/"
    assert client.get("/set-up/")["Location"] == "/set-up/you/"


def test_through_all_steps(as_person, ada):
    setting_up.begin()
    client = as_person(ada)
    assert client.post("/set-up/you/", {"shown_name": "Ada Reed", "password": ""})["Location"] == "/set-up/shop/"
    assert client.post("/set-up/shop/", seen(client, "shop") | {"name": "Reed & Bow"})["Location"] == "/set-up/money/"
    money = seen(client, "money") | {"currency": "chf", "tax_rate": "8,1"}
    assert client.post("/set-up/money/", money)["Location"] == "/set-up/work/"
    assert client.post("/set-up/work/", seen(client, "work") | {"length_unit": "in"})["Location"] == "/office/"
    here = Workshop.here()
    assert (here.name, here.currency, str(here.tax_rate), here.length_unit) == ("Reed & Bow", "CHF", "8.10", "in")
    assert here.set_up_step == ""
    assert client.get("/")["Location"] == "/office/"


def test_it_goes_on_where_it_was_left(as_person, ada):
    setting_up.begin()
    client = as_person(ada)
    client.post("/set-up/you/", {"shown_name": "Ada"})
    client.post("/set-up/end/", {"later": "yes"})
    assert client.get("/")["Location"] == "/office/"
    assert "not finished" in client.get("/office/").text
    client.logout()
    client.force_login(ada)
    assert client.get("/")["Location"] == "/set-up/"
    assert client.get("/set-up/")["Location"] == "/set-up/shop/"
    client.post("/set-up/end/")
    assert client.get("/")["Location"] == "/office/"
    assert "not finished" not in client.get("/office/").text


def test_bad_input_is_said_and_kept(as_person, ada):
    setting_up.begin()
    client = as_person(ada)
    answer = client.post("/set-up/money/", seen(client, "money") | {"iban": "DE00", "tax_number": "12/345"})
    assert answer.status_code == 422
    assert "12/345" in answer.text
    assert client.post("/set-up/you/", {"shown_name": "Ada", "password": "short"}).status_code == 422
    assert client.get("/set-up/nowhere/").status_code == 404
    assert Workshop.here().set_up_step == "you"


def test_a_new_password_keeps_one_signed_in(as_person, ada):
    client = as_person(ada)
    client.post("/set-up/you/", {"shown_name": "Ada", "password": "ten walnut boards"})
    ada.refresh_from_db()
    assert ada.check_password("ten walnut boards")
    assert client.get("/office/").status_code == 200


def picture(kind="PNG"):
    out = BytesIO()
    Image.new("RGB", (900, 300), "navy").save(out, kind)
    return out.getvalue()


def upload(client, data, name="logo.png"):
    return client.post("/office/workshop/logo/", {"file": SimpleUploadedFile(name, data)})


def test_a_logo_is_made_anew_and_stands_on_papers(as_person, ada):
    client = as_person(ada)
    assert upload(client, picture(), "../../<b>.svg").status_code == 302
    name = Workshop.here().logo.name
    assert name.startswith("logo/")
    assert name.endswith(".jpg")
    with default_storage.open(name) as file:
        assert max(Image.open(file).size) <= setting_up.LARGEST_LOGO
    assert "data:image/jpeg" in Template("{% load paper_logo %}{% paper_logo %}").render(Context())
    assert client.get("/office/workshop/logo.jpg").status_code == 200
    upload(client, picture("JPEG"))
    assert not default_storage.exists(name)  # the one before is gone
    client.post("/office/workshop/logo/drop/")
    assert Template("{% load paper_logo %}{% paper_logo %}").render(Context()) == ""


@pytest.mark.parametrize(
    "data", [b"", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"GIF89a", b"%PDF-1.7", picture()[:60]]
)
def test_what_is_no_picture_is_refused(as_person, ada, data):
    assert upload(as_person(ada), data).status_code == 422
    assert not Workshop.here().logo


def test_only_the_owner(as_person, ben):
    client = as_person(ben)
    for path in ("/set-up/", "/set-up/shop/", "/office/workshop/logo/"):
        assert client.get(path).status_code == 403
