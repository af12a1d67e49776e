"""Scripts stored in every text field stay text on every page, every paper and every mail."""

import re

import pytest
from django.apps import apps
from django.db import connection, models, transaction
from django.test import Client

from shop.figures.demo.load import load
from shop.handover.models import OutgoingMail
from shop.lib import pdf
from shop.staff.models import Person
from tests.bad_input import forms_found, machine

pytestmark = pytest.mark.django_db
PROBE = "<b id=probe>x</b>\"'><img src=x onerror=probe()>{{7*7}}"
RAW = re.compile(r"<b id=probe>|<img src=x|onerror=probe\(\)>(?!.*&)")
# Keys, codes and choices: what is not free text, and what other rows point to by its words.
NOT_TEXT = re.compile(
    r"(^|_)(key|code|state|kind|role|number|sha256|file|thumb|unit|family|hand|what|step|stage|standing|material|gauge|"
    r"currency|country|format|paper|zone|username|password|email|to|address|sender|claim|iban|bic|prefix|phone|fold\w*|"
    r"session\w*|device|pin|about|makes|series|folded|search\w*|digits)($|_)"
)
ROOMS = ("people", "instruments", "stock", "orders", "worksheets", "staff")


@pytest.fixture
def poisoned(monkeypatch):
    """A full shop, with the probe in every free text of every row that may change."""
    markups = []
    monkeypatch.setattr(pdf, "pdf_of", lambda markup, **_: markups.append(markup) or b"%PDF-1.7\n%%EOF\n")
    load(orders=17, seed=5)
    machine.rare_things()
    fields = [(model, field) for room in ROOMS for model in apps.get_app_config(room).get_models()
              for field in model._meta.concrete_fields if is_text(field)]  # fmt: skip
    changed = []
    for model, field in fields:
        value = PROBE[: field.max_length] if field.max_length else PROBE
        try:
            with transaction.atomic():
                if model._base_manager.exclude(pk=None).update(**{field.name: value}):
                    changed.append(f"{model.__name__}.{field.name}")
        except Exception:  # noqa: BLE001 (a constraint or a frozen row: that text cannot be changed)
            continue
    markups.clear()
    return changed, markups


def is_text(field):
    free = isinstance(field, models.CharField | models.TextField) and not field.choices and not field.unique
    return free and not NOT_TEXT.search(field.name)


def test_no_page_runs_what_was_stored(poisoned):
    changed, markups = poisoned
    assert len(changed) >= 25, changed
    client = Client()
    client.force_login(Person.objects.filter(role="owner").first())
    seen = {}
    real_get = client.get

    def keep(path, *args, **kwargs):
        answer = real_get(path, *args, **kwargs)
        if not answer.streaming:
            seen[path] = answer.content.decode("utf-8", "replace")
        return answer

    client.get = keep
    forms_found.walk(client, ["/", *machine.starts()])
    assert len(seen) > 80
    assert sum("&lt;b id=probe&gt;" in text for text in seen.values()) > 25
    assert [path for path, text in seen.items() if "<b id=probe>" in text or "<img src=x" in text] == []
    assert [text for text in markups if "<b id=probe>" in text or "<img src=x" in text] == []
    assert "49" not in {text.strip() for text in seen.values()}


def test_no_mail_runs_what_was_stored(poisoned):
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    for mail in OutgoingMail.objects.exclude(html=""):
        assert "<b id=probe>" not in mail.html
        assert "\n" not in mail.subject
