"""Every form and every address of scripts under generated bad input: no 500, nothing half saved, a word beside it.

The ordinary run takes a slice, the same each time. BAD_INPUTS_EACH=220 draws more than 20,000 afresh.
"""

import os
import sys
from collections import Counter

import pytest
from django.conf import settings
from django.db import transaction
from django.test import override_settings
from hypothesis import HealthCheck, Phase, given
from hypothesis import settings as sending
from hypothesis import strategies as st

from shop.lib import pdf
from tests.bad_input import nasty
from tests.bad_input.machine import Shop
from tests.every_address import WHO

pytestmark = pytest.mark.django_db
WHOLE = "BAD_INPUTS_EACH" in os.environ
EACH = int(os.environ.get("BAD_INPUTS_EACH", "6"))
# Addresses that take nothing but themselves: files, redirects, and the end of the visit.
NO_FORM = {
    "home", "sign-out", "worksheet", "tag", "booked-in", "photo", "order-signature", "order-receipt", "visit-tags",
    "another", "draft-photo-of-mark", "invoice-draft", "audit-export", "invoice-pdf", "paper", "mail-html",
    "invoice-xml", "calendar-feed",
    "customer-card", "customer-data-zip", "customer-paper", "data-cards", "data-everything", "figures-csv",
    "health-check", "import-empty", "month-csv", "month-pdf", "month-papers", "reorder-export", "shelf-export",
    "statement", "count", "workshop-logo-picture",
}  # fmt: skip
# Buttons without a field, which the demo's shop does not show as it stands; other tests press them.
BUTTONS = {
    "draft-photo-drop", "calendar-feed-withdraw", "closed-remove", "codes-drop", "device-out", "line-put-back",
    "mail-words-usual", "month-make", "month-now", "others-out", "part-not-sent", "person-codes-drop", "photo-remove",
    "recheck-go-on", "recheck-stop", "recheck-take", "step-photo-remove", "workshop-logo-drop", "import-write",
}  # fmt: skip
# Forms that the walk through the demo's shop does not reach: in these, bad input is left to the tests of their rooms.
OUT_OF_REACH = {
    "codes-anew", "customer-answer", "forgotten", "invoice-issue", "new-password", "order-collect", "order-ready",
    "re-enter", "set-up", "sign-in-code", "step-span",
}  # fmt: skip
NOT_MET = BUTTONS | OUT_OF_REACH
SENT = Counter()


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
        patch.setattr(pdf, "pdf_of", lambda *_, **__: b"%PDF-1.7\n%%EOF\n")
        yield Shop()
        transaction.set_rollback(True)
    sys.stderr.write(f"\n{sum(SENT.values())} bad inputs sent to {len(SENT)} addresses\n")


def test_every_form_is_met(shop):
    assert set(WHO) - {name for name, _ in shop.forms} - NO_FORM - NOT_MET == set()


@pytest.mark.parametrize("name", sorted(set(WHO) - NO_FORM - NOT_MET))
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
