"""Nothing of an erased person is left in any column or file, but for the invoice as it was issued."""

import itertools
import re
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from django.apps import apps
from django.conf import settings
from django.db import models

from shop.billing import services as billing
from shop.billing.models import Invoice
from shop.figures.carrying import erasing
from shop.figures.merging import services as merging
from shop.figures.merging.kinds import CUSTOMERS
from shop.handover import dunning, letters, outbox, services, stating
from shop.handover.models import OutgoingMail, Paper, Reminder
from shop.instruments import services as instruments
from shop.lib.dates import today
from shop.orders import services as orders
from shop.orders.models import Agreement, Answer, ConditionMark, Quote, WorkOrder
from shop.orders.services import NewLine
from shop.orders.states import State
from shop.people.models import Customer
from tests import factories, money_builders, pictures
from tests.counter_builders import booking

pytestmark = pytest.mark.django_db(transaction=True)
WORDS = ("Quillfeather", "960987", "quill@example.com", "Saltmarsh Lane", "q-feather@example.com")
PNG = pictures.encoded(pictures.image(800, 240), "PNG")
SOUGHT = re.compile("|".join(map(re.escape, WORDS)), re.I)
TEXTS = (models.CharField, models.TextField, models.JSONField, models.FileField)
# The books: what an invoice said when it was issued.
STAYS = {"billing.Invoice.snapshot", "handover.Paper.file"}


@pytest.fixture
def shop(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "files"
    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.EMAIL_FILE_PATH, settings.MAIL_IS_LOCAL = tmp_path / "outbox", True
    factories.workshop(intake_terms="We ask first.", email="workshop@example.com", payment_days=14)
    return tmp_path


def person(by):
    """Somebody with everything that is kept of a person: two records that became one, a visit, a quote that they
    answered, an invoice, a reminder of it, a statement and mails."""
    who = factories.customer(
        name="Ada Quillfeather", phone="01632 960987", email="quill@example.com", address="7 Saltmarsh Lane",
        company="Quillfeather & Co", notes="Ask for Quillfeather.", taste="As Quillfeather likes it.",
    )  # fmt: skip
    twin = factories.customer(name="A. Quillfeather", email="q-feather@example.com", phone="")
    who, twin = (Customer.objects.get(pk=one.pk) for one in (who, twin))
    merging.merge(CUSTOMERS, who, twin, chosen=set(), texts={}, seen=CUSTOMERS.seen(who, twin), by=by)
    one = factories.instrument(who, notes="Was Quillfeather's mother's.", taste="Quillfeather plays hard.")
    lines = (NewLine("Setup", Decimal(85), Decimal(20)),)
    marks = (ConditionMark(side="front", x=0.5, y=0.5, note="Quillfeather's ring"),)
    draft = booking(
        who, one, complaint="Quillfeather says: buzzes.", bench_note="Ring 01632 960987.", lines=lines, marks=marks,
        came_with="a case marked Quillfeather", signature=PNG, intake_terms="We ask first.",
    )  # fmt: skip
    order = orders.book_in_together([draft], by=by)[0]
    orders.add_photo(order, pictures.photo(), by=by, caption="Quillfeather's case")
    orders.add_note(order, "Quillfeather rang from 01632 960987.", by=by)
    services.mail_quote(order, by=by)
    orders.answer_lines(
        order, list(order.lines.all()), Agreement.AGREED, how="on paper", by=by, name="Ada Quillfeather",
        quote=order.quotes.first(),
    )  # fmt: skip
    instruments.record_spec_value(one, "scale_length", 628.0, by=by)
    WorkOrder.objects.filter(pk=order.pk).update(state=State.CHECKED)
    return who, order


def said_anywhere():
    """{room.Model.column: what it says} of every text in the database that names them."""
    found = {}
    for model in apps.get_models(include_auto_created=True):
        texts = [one.attname for one in model._meta.concrete_fields if isinstance(one, TEXTS)]
        for row in model._base_manager.values(*texts) if texts else ():
            for name, value in row.items():
                if SOUGHT.search(str(value or "")):
                    found.setdefault(f"{model._meta.label}.{name}", []).append(str(value)[:200])
    return found


def files_that_name_them(folder):
    files = [one for one in Path(folder).rglob("*") if one.is_file()]
    return [one for one in files if SOUGHT.search(one.read_bytes().decode("latin-1"))]


@pytest.fixture
def on(monkeypatch):
    """Pretend that it is so many days later for whoever reminds."""
    began = today()
    return lambda days: monkeypatch.setattr("shop.handover.dunning.today", lambda: began + timedelta(days=days))


def told():
    """What stays of the reminders: a mail and a letter."""
    return list(Reminder.objects.order_by("level").values_list("level", "sent_on", "open_amount"))


def test_what_must_stay_stays_and_nothing_else_names_them(shop, ada, on):
    who, order = person(ada)
    invoice = billing.issue(order, by=ada)
    on(40)
    assert dunning.remind(invoice, by=ada)
    on(80)
    assert letters.write(invoice, by=ada)
    assert stating.mail_statement(who, by=ada)
    outbox.deliver()
    assert files_that_name_them(shop / "outbox")
    assert {"people.Customer.name", "handover.OutgoingMail.to", "orders.Event.text", "orders.Answer.name",
            "people.CustomerMerge.details", "orders.ConditionMark.note"} <= said_anywhere().keys()  # fmt: skip
    billing.receive(invoice.order, amount=invoice.total, kind="cash", key=money_builders.key(), by=ada)
    WorkOrder.objects.filter(pk=order.pk).update(state=State.COLLECTED)
    sold = booking(factories.customer(name="Somebody Else", email="else@example.com"), order.instrument)
    sold = orders.book_in(sold, by=ada, afterwards=())
    assert sold.events.filter(what="owner_changed", text__contains="Quillfeather").exists()
    reminded, kept = told(), Invoice.objects.get().snapshot

    erasing.erase(who, by=ada)

    assert said_anywhere().keys() <= STAYS, said_anywhere()
    assert not files_that_name_them(shop / "outbox")
    assert not OutgoingMail.objects.exists()
    assert {one.kind for one in Paper.objects.all()} <= {"invoice"}
    assert {one.name for one in Path(settings.MEDIA_ROOT).rglob("*") if one.is_file()} == {
        Path(one.file.name).name for one in Paper.objects.all()
    }
    assert told() == reminded
    assert not Reminder.objects.exclude(mail=None, letter=None).exists()
    assert Invoice.objects.get().snapshot == kept
    assert sold.events.get(what="owner_changed").text.endswith("before, to (erased).")
    assert Quote.objects.get().lines
    assert [(one.name, one.answer) for one in Answer.objects.all()] == [("", "agreed")]
    assert WorkOrder.objects.get(pk=order.pk).events.filter(what="erased").count() == 1


def test_everybody_else_keeps_their_mail(shop, ada):
    who, _ = person(ada)
    other = orders.book_in(booking(factories.customer(name="Somebody Else", email="else@example.com")), by=ada)
    outbox.deliver()
    WorkOrder.objects.exclude(pk=other.pk).update(state=State.COLLECTED)
    erasing.erase(who, by=ada)
    assert not files_that_name_them(shop / "outbox")
    left = "".join(one.read_text() for one in itertools.chain((shop / "outbox").iterdir()))
    assert "else@example.com" in left
    assert OutgoingMail.objects.get().customer == other.customer
