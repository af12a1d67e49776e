"""Every form and every address of scripts under generated bad input: no 500, nothing half saved, a word beside it.

The ordinary run takes a slice, the same each time. BAD_INPUTS_EACH=140 draws more than 20,000 afresh.
"""

import os

import pytest
from django.apps import apps
from django.conf import settings
from django.db import transaction
from django.test import override_settings
from hypothesis import HealthCheck, Phase, given
from hypothesis import settings as sending
from hypothesis import strategies as st

from tests import no_papers
from tests.bad_input import nasty
from tests.bad_input.machine import Shop
from tests.bad_input.sent import SENT
from tests.every_address import WHO

pytestmark = pytest.mark.django_db
WHOLE = "BAD_INPUTS_EACH" in os.environ
EACH = int(os.environ.get("BAD_INPUTS_EACH", "6"))
# Addresses that take nothing but themselves: files, redirects, and the end of the visit.
NO_FORM = {
    "home", "sign-out", "worksheet", "tag", "booked-in", "photo", "order-signature", "order-receipt", "visit-tags",
    "another", "draft-photo-of-mark", "invoice-draft", "audit-export", "invoice-pdf", "paper", "mail-html",
    "invoice-xml", "calendar-feed",
    "customers-export", "instruments-export", "prices-export", "mail-export",
    "customer-card", "customer-data-zip", "customer-paper", "data-cards", "data-everything", "figures-csv",
    "health-check", "import-empty", "month-csv", "month-pdf", "month-papers", "reorder-export", "shelf-export",
    "statement", "count", "workshop-logo-picture", "set-up", "suppliers-export", "staff-export", "silenced-export",
    "part-export", "bench-export", "profiles-export", "devices-export", "closed-export", "reminders-export",
    "mail-words-export", "branches-export", "health-export",
}  # fmt: skip
# Buttons without a field, which the demo's shop does not show as it stands; other tests press them.
BUTTONS = {
    "draft-photo-drop", "calendar-feed-withdraw", "closed-remove", "codes-drop", "device-out", "line-put-back",
    "mail-words-usual", "month-make", "month-now", "others-out", "part-not-sent", "person-codes-drop", "photo-remove",
    "part-keep", "recheck-go-on", "recheck-stop", "recheck-take", "step-photo-remove", "workshop-logo-drop",
    "import-write", "customer-unmerge", "instrument-unmerge", "import-run", "import-stop",
    "reminder-taken-back",
}  # fmt: skip


@pytest.fixture(autouse=True)
def own_files():
    """The shop's files stay where they are for all of these tests."""


@pytest.fixture(scope="module")
def shop(django_db_setup, django_db_blocker, tmp_path_factory):
    folder = tmp_path_factory.mktemp("bad_input")
    kept = {**settings.STORAGES["default"], "OPTIONS": {**settings.STORAGES["default"]["OPTIONS"], "location": folder}}
    files = override_settings(
        FILES_ROOT=folder, EMAIL_FILE_PATH=folder / "outbox", STORAGES={**settings.STORAGES, "default": kept}
    )
    unblocked = django_db_blocker.unblock()
    with files, unblocked, transaction.atomic(), pytest.MonkeyPatch.context() as patch:
        # What a paper looks like is tested elsewhere, and setting thousands of them takes hours.
        no_papers.instead(patch)
        yield Shop()
        transaction.set_rollback(True)


def test_every_form_is_met(shop):
    assert set(WHO) - {name for name, _ in shop.forms} - NO_FORM - BUTTONS == set()


# Names that a row has, whatever form is sent: a view that took what it was given would take these.
UNASKED = {
    field.name: "1"
    for model in apps.get_models() if model.__module__.startswith("shop.")
    for field in model._meta.concrete_fields
} | {"is_superuser": "on", "role": "owner", "state": "collected", "password": "x", "pk": "1"}  # fmt: skip
# Fields that a form has in other states of the order than that of the page it was found on.
OF_OTHER_STATES = {"order-move": {"reason"}, "lines-agree": {"how", "name"}, "lines-decline": {"how", "name"}}
ELSEWHERE = "//example.com/"


def posts(shop):
    return [form for (_, method), forms in shop.forms.items() if method == "POST" for form in forms]


def test_what_no_form_shows_is_not_taken(shop):
    """Every form is sent as it stands, and once more with every column's name beside it: the same is written."""
    taken = {}
    for form in posts(shop):
        prefixes = sorted({""} | {f"{field.rpartition('-')[0]}-" for field in form.fields if "-" in field})
        more = {f"{prefix}{one}": [value] for prefix in prefixes[:5] for one, value in UNASKED.items()}
        known = form.data.keys() | OF_OTHER_STATES.get(form.name, set())
        unasked = {one: value for one, value in more.items() if one not in known}
        before, after = shop.outcome(form, {}), shop.outcome(form, unasked)
        if before != after:
            taken[form.name] = before[:2], after[:2], differing(before[2], after[2])
    assert taken == {}


def differing(before, after):
    """The first values that were written differently, or how many statements there were."""
    for (_, was), (sql, now) in zip(before, after, strict=False):
        if was != now:
            return sql[:60], set(was) ^ set(now)
    return len(before), len(after)


def test_no_form_leads_off_the_host(shop):
    gone = []
    for form in posts(shop):
        if {"next", "back"} & form.data.keys():
            _, leads, _ = shop.outcome(form, {"next": [ELSEWHERE], "back": [ELSEWHERE]})
            gone += [(form.name, leads)] if "example.com" in leads else []
    assert gone == []


@pytest.mark.parametrize("name", sorted(set(WHO) - NO_FORM - BUTTONS))
def test_bad_input(shop, name):
    forms = [form for (one, _), found in shop.forms.items() if one == name for form in found]

    @sending(max_examples=EACH, deadline=None, database=None, derandomize=not WHOLE,
             suppress_health_check=list(HealthCheck), phases=[Phase.generate])  # fmt: skip
    @given(st.data())
    def send(data):
        form = data.draw(st.sampled_from(forms))
        changed = data.draw(nasty.changes(form.fields)) if form.fields else {}
        SENT[name] += 1
        assert shop.problems(form, changed, by_script=data.draw(st.integers(0, 4)) == 0) == [], (form.path, changed)

    send()
