"""Sends one changed form at a time to a full shop, and says what went wrong. Everything is rolled back after each."""

import hashlib
import re
import time
import uuid
from contextlib import contextmanager
from urllib.parse import urlencode

from django.apps import apps
from django.conf import settings
from django.contrib.auth.tokens import default_token_generator
from django.core.management.color import no_style
from django.db import connection, transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_encode
from lxml import html

from shop.billing.models import Payment
from shop.figures.demo.load import load
from shop.handover import services as handover
from shop.handover.models import MailState, OutgoingMail, SilencedAddress
from shop.instruments.models import Instrument
from shop.orders import services as orders
from shop.orders.models import Agreement, Photo, WorkOrder
from shop.orders.quote_models import Quote
from shop.orders.states import State
from shop.people.models import Customer
from shop.staff import branches, codes, keeping
from shop.staff.models import KeptView, Person, Workshop
from shop.worksheets.models import Reading, TargetProfile, Worksheet
from tests.bad_input import forms_found, nasty
from tests.bad_input.forms_found import Form
from tests.hardening import probes

# What may be written although the form was refused: photographs kept with a draft, and the shop's own bookkeeping, such
# as sums that are made anew from the rows whenever somebody asks for them.
KEPT_ANYWAY = {"orders_photo", "orders_customerlink", "cache", "staff_auditentry", "staff_signedin",
               "remade_figures_sum", "remade_figures_touched"}  # fmt: skip
TELLS = (
    "//*[contains(@class,'invalid-feedback') or contains(@class,'error-summary') or @data-errors"
    " or @aria-invalid='true' or contains(@class,'is-invalid') or contains(@class,'problem') or @role='alert']"
)
PRIVATE = re.compile(r"/yours/[^/\s]+/")  # a page's address, drawn by lot
MOMENT = re.compile(r"\d\d:\d\d:\d\d")
WRITES = ("INSERT", "UPDATE", "DELETE", "REPLACE")


class Shop:
    """The full shop, its owner signed in, and every form of it."""

    def __init__(self):
        load(orders=17, seed=5)
        rare_things()
        client = Client()
        client.force_login(Person.objects.filter(role="owner").first())
        self.cookies = client.cookies.copy()
        self.cookies_of = dict(other_visits())
        self.forms = forms_found.walk(client, ["/", *starts()])
        for one in by_script():
            forms_found.keep(self.forms, one)
        for one in self.forms.get(("book-in", "POST"), ()):
            forms_found.keep(self.forms, Form("reckon", "POST", reverse("reckon"), one.data))
        self.forms = {key: found for key, found in self.forms.items() if key[1] in ("GET", "POST")}
        self.before = fingerprint()

    def send(self, form, changed, by_script=False):
        """The answer to `form` with these fields changed, and whether any row was written for it."""
        data = [(name, one) for name, several in {**form.data, **changed}.items() for one in several]
        body = urlencode([(nasty.sendable(name), nasty.sendable(str(one or ""))) for name, one in data])
        if form.method == "POST":
            body += "&csrfmiddlewaretoken=x"  # as from every page of ours: a form is never sent empty
        client = Client(headers={"Accept": "application/json"} if by_script else {})
        client.cookies = self.cookies_of.get(form.name, self.cookies).copy()
        with writes() as written:
            if form.method == "GET":
                answer = client.get(f"{form.path}?{body}")
            else:
                answer = client.post(form.path, body, content_type="application/x-www-form-urlencoded")
        return answer, written

    def outcome(self, form, changed):
        """(status, where it leads, what was written with which values) of `form` with these fields. Changes nothing."""
        with transaction.atomic():
            count_anew()
            answer, written = self.send(form, changed)
            transaction.set_rollback(True)
        return answer.status_code, answer.headers.get("Location", ""), written

    def problems(self, form, changed, by_script=False):
        """What was wrong with the answer, in words. Changes nothing."""
        with transaction.atomic():
            answer, written = self.send(form, changed, by_script)
            found = list(wrong_with(answer))
            if written and (answer.status_code >= 400 or form.method == "GET") and fingerprint() != self.before:
                found.append(f"answered {answer.status_code} and yet changed rows by {[sql for sql, _ in written[:3]]}")
            transaction.set_rollback(True)
        return found


def other_visits():
    """(address, the cookies of a visit that it belongs to), where that is not the owner's own."""
    owner = Person.objects.filter(role="owner").first()
    for name in ("sign-in", "forgotten", "sign-in-code", "new-password", "re-enter"):
        visit = Client()
        if name == "sign-in-code":
            keep_in_session(visit, half={"pk": owner.pk, "at": time.time(), "next": "/"})
        elif name == "re-enter":
            visit.force_login(owner)
            keep_in_session(visit, locked=True)
        elif name == "new-password":
            visit.get(reverse(name, args=new_password_of(owner)))
        yield name, visit.cookies


def keep_in_session(visit, **values):
    session = visit.session
    session.update(values)
    session.save()
    visit.cookies[settings.SESSION_COOKIE_NAME] = session.session_key


def new_password_of(person):
    return [urlsafe_base64_encode(force_bytes(person.pk)), default_token_generator.make_token(person)]


def rare_things():
    """What the demo has none of: somebody twice, a silenced address, a mail that waits, a photograph."""
    Customer.objects.create(name="J. Reed", phone="+44 1632 960998")
    Customer.objects.create(name="Jonas Reed", phone="01632 960998")
    keeping.keep(Person.objects.filter(role="owner").first(), page="orders", query="show=late", name="Late")
    codes.telephone(Person.objects.filter(role="owner").first(), codes.new_key()).save()
    mailed = WorkOrder.objects.filter(customer__mail_agreed=True).exclude(customer__email="")
    proposed = mailed.filter(lines__agreement=Agreement.PROPOSED)
    handover.mail_quote(proposed.first(), by=Person.objects.first())
    SilencedAddress.objects.create(address="jonas@example.com", reason="Asked for it.", since=timezone.now())
    OutgoingMail.objects.filter(pk=OutgoingMail.objects.first().pk).update(state=MailState.WAITING)
    Photo.objects.create(order=WorkOrder.objects.earliest("pk"), file="photos/a.jpg", thumb="photos/b.jpg")
    Workshop.objects.update(tax_number="DE136695976")
    abroad = {"vat_number": "FR40303265045", "town": "Lyon", "country": "FR"}
    Customer.objects.filter(pk=unbilled().customer_id).update(**abroad)
    branches.open_branch({"name": "Harbour", "mark": "H"}, first_name="High Street")
    branches.close(branches.open_branch({"name": "Mill", "mark": "M"}))


def unbilled():
    return WorkOrder.objects.filter(state=State.ON_BENCH, invoices=None).earliest("pk")


def starts():
    """Pages that no link leads to, and one order of every state."""
    for quote in Quote.objects.all()[:1]:
        yield reverse("customer-page", args=[orders.token_of(orders.link_for_mail(quote.order, by=quote.made_by))])
    seen = {order.state: order for order in WorkOrder.objects.order_by("-pk")}
    order = WorkOrder.objects.earliest("pk")
    yield f"{reverse('counter')}?new=Jo"
    yield f"{reverse('counter')}?instrument={order.instrument_id}"
    yield reverse("mail-detail", args=[OutgoingMail.objects.first().pk])
    second, first = Customer.objects.order_by("-pk")[:2]
    yield reverse("customer", args=[second.pk])
    yield reverse("customer-merge", args=[second.pk, first.pk])
    yield reverse("instrument-merge", args=Instrument.objects.order_by("pk").values_list("pk", flat=True)[:2])
    yield f"{reverse('orders')}?show=waiting"
    yield KeptView.objects.get().address
    yield reverse("kept-view", args=[KeptView.objects.get().pk])
    yield reverse("order-money", args=[unbilled().number])
    yield reverse("order-money", args=[Payment.objects.latest("pk").order.number])
    yield from (reverse("worksheet-plan", args=[one.pk]) for one in Worksheet.objects.filter(signed_at=None))
    for one in (order, *seen.values()):
        yield reverse("order", args=[one.number])
        yield reverse("order-money", args=[one.number])
        yield from (reverse("worksheet", args=[sheet.pk]) for sheet in one.worksheets.all())


def by_script():
    """The forms that only a script sends."""
    reading = Reading.objects.filter(worksheet__signed_at=None).order_by("pk").first()
    sheet = reading.worksheet if reading else Worksheet.objects.first()
    where = {"pk": sheet.pk, "step": reading.step}
    sent = {"client_id": str(uuid.uuid4()), "stage": "bench", "key": reading.key, "string": reading.string or "",
            "raw": "4/64", "gauge": "", "basis": "", "unit": ""}  # fmt: skip
    profile, owner = TargetProfile.objects.first().pk, Person.objects.filter(role="owner").first()
    handed = {order.state: {"number": order.number} for order in WorkOrder.objects.order_by("-pk")}
    password = {"uidb64": new_password_of(owner)[0], "token": "set-password"}
    for name, method, kwargs, data in (
        ("reading-save", "POST", where, sent),
        ("reading-choose", "POST", where, {"reading": reading.pk}),
        ("reading-undo", "POST", where, {"reading": reading.pk}),
        ("reading-history", "GET", where, {"key": reading.key, "string": reading.string or "", "stage": "bench"}),
        ("step-live", "GET", where, {"stamp": "", "after": ""}),
        ("step-stringing", "POST", where, {"stringing": "through"}),
        ("finding-withdraw", "POST", {"pk": sheet.pk}, {"finding": "", "step": ""}),
        ("profile-delete", "POST", {"pk": profile}, {"next": ""}),
        ("profile-usual", "POST", {"pk": profile}, {"next": ""}),
        ("draft-photo-keep", "POST", {}, {"job-draft_key": str(uuid.uuid4()), "job-photos": ""}),
        ("draft-photos", "GET", {}, {"draft_key": str(uuid.uuid4())}),
        ("counter", "GET", {}, {"q": "", "new": "", "customer": "", "instrument": "", "page": ""}),
        ("counter-found", "GET", {}, {"q": "Reed"}),
        ("find", "GET", {}, {"q": "Reed", "page": ""}),
        ("alike", "GET", {}, {"customer-phone": "0", "customer-email": "", "instrument-serial": "", "customer": "1"}),
        ("worksheet-compare", "GET", {"pk": sheet.pk}, {"with": "", "stage": ""}),
        ("order-tag", "GET", {"number": sheet.order.number}, {"size": ""}),
        ("bench", "GET", {}, {"q": "", "page": "", "who": ""}),
        ("sign-in", "GET", {}, {"next": "/"}),
        ("sign-in-code", "POST", {}, {"code": "", "next": "/"}),
        ("re-enter", "POST", {}, {"word": "", "next": "/"}),
        ("forgotten", "POST", {}, {"who": ""}),
        ("new-password", "POST", password, {"new_password1": "", "new_password2": ""}),
        ("step-span", "POST", where, {"client_id": uuid.uuid4(), "began_ago": 9000, "ended_ago": 0}),
        ("order-collect", "POST", handed[State.READY], {"reason": ""}),
        ("order-expect", "POST", handed[State.READY], {"day": "2030-01-01"}),
        ("order-ready", "POST", handed[State.CHECKED], {"note": ""}),
        ("invoice-issue", "POST", handed[State.CHECKED], {"note": ""}),
    ):
        yield Form(name, method, reverse(name, kwargs=kwargs), {key: [str(value)] for key, value in data.items()})
    yield as_get("orders-export", "orders")
    yield as_get("invoices-csv", "invoices")


def as_get(name, like):
    wanted = ("q", "state", "page", "from", "to", "sort", "customer", like)
    return Form(name, "GET", reverse(name), {one: [""] for one in wanted})


@contextmanager
def writes():
    """The statements that wrote anything but what is kept anyway."""
    written = []

    def look(execute, sql, params, many, context):
        words = sql.lstrip().split(None, 3)
        if words[0].upper() in WRITES and not any(f'"{table}"' in sql for table in KEPT_ANYWAY):
            written.append((sql, tuple(steady(one) for one in params or ())))
        return execute(sql, params, many, context)

    with connection.execute_wrapper(look):
        yield written


def count_anew():
    """The next keys follow the last rows: PostgreSQL does not take back a sequence's steps when it rolls back."""
    with connection.cursor() as cursor:
        for sql in connection.ops.sequence_reset_sql(no_style(), apps.get_models(include_auto_created=True)):
            cursor.execute(sql)


def steady(value):
    """A value as it is in every run: the time of day and what was drawn by lot are left out."""
    if isinstance(value, list):  # PostgreSQL gets a column of many rows as one value
        return tuple(steady(one) for one in value)
    text = PRIVATE.sub("/yours/…/", str(value))
    by_lot = (len(text) > 30 and " " not in text) or text.endswith((".pdf", ".jpg", ".png"))
    return "…" if by_lot or MOMENT.search(text) else text


def fingerprint():
    """A digest of every row of the shop but what is kept anyway."""
    digest = hashlib.sha256()
    for model in apps.get_models(include_auto_created=True):
        if model._meta.db_table not in KEPT_ANYWAY:
            digest.update(repr(list(model._base_manager.order_by("pk").values_list())).encode("utf-8", "replace"))
    return digest.hexdigest()


def wrong_with(answer):
    content = b"" if answer.streaming else answer.content
    if answer.streaming:
        content = b"".join(answer.streaming_content)
    if answer.status_code >= 500:
        yield f"answered {answer.status_code}"
    if answer["Content-Type"].startswith("text/html"):
        yield from probes.heeded(content.decode())
    if answer.status_code == 422 and answer["Content-Type"].startswith("text/html"):
        page = html.document_fromstring(content.decode() or "<p>")
        if not page.xpath(TELLS):
            yield "refused without a word"
    is_json = answer["Content-Type"].startswith("application/json")
    if answer.status_code == 422 and is_json and b"problem" not in content:
        yield "refused without a word"
