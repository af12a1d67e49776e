"""Two records of one person, or of one instrument, become one: nothing is lost, and they can be taken apart again."""

import pytest
from django.apps import apps
from django.utils import timezone

from shop.billing import services as billing
from shop.billing.models import Invoice
from shop.figures.carrying import erasing
from shop.figures.merging import services
from shop.figures.merging.kinds import CUSTOMERS, INSTRUMENTS, texts_together
from shop.handover.models import OutgoingMail
from shop.instruments import services as instruments
from shop.instruments.models import InstrumentMerge, InstrumentString
from shop.lib.carry_over import relations_to, written
from shop.orders import services as orders
from shop.orders.models import Event, WorkOrder
from shop.orders.states import State
from shop.people.models import Customer, CustomerMerge
from shop.worksheets import tastes
from shop.worksheets.models import Taste
from tests import factories, money_builders

pytestmark = pytest.mark.django_db
STRINGS = [{"number": 1, "midi": 64, "material": "plain_steel", "diameter_mm": 0.25, "core_mm": None}]


def mail_to(customer, order):
    now = timezone.now()
    return OutgoingMail.objects.create(
        name="ready", customer=customer, order=order, to=customer.email, sender="x@example.com", subject="s", text="t",
        message_id=f"<{customer.pk}@example.com>", next_try_at=now, queued_at=now,
    )  # fmt: skip


def known(by, *, name="Mara Fell", serial="LR-0412", ranges, **fields):
    """A customer with one row, at least, in every table that speaks of customers or instruments."""
    who = factories.customer(name=name, **fields)
    one = factories.instrument(who, serial=serial)
    order = money_builders.order(by, instrument=one)
    billing.issue(order, by=by)
    mail_to(who, order)
    tastes.save(ranges, by=by, kind=one.kind, customer=who)
    tastes.save(ranges, by=by, kind=one.kind, instrument=one)
    instruments.record_spec_value(one, "scale_length", 628.0 + who.pk, by=by)
    instruments.fit_strings(one, STRINGS)
    CustomerMerge.objects.create(kept=who, gone=9000 + who.pk, details={"pk": 1}, at=timezone.now(), by=by)
    InstrumentMerge.objects.create(kept=one, gone=9000 + who.pk, details={"pk": 1}, at=timezone.now(), by=by)
    return who


@pytest.fixture
def two(ada):
    kept = known(ada, ranges={"relief": [0.1, 0.2]})
    gone = known(
        ada, name="M. Fell", serial="lr0412", ranges={"relief": [0.3, 0.4], "height_12": [1.5, 1.8]},
        phone="01632 960123", email="m@example.com", mail_agreed=False, notes="Rings at noon.", company="Fell & Co",
    )  # fmt: skip
    return kept, gone


def merge(kind, kept, gone, by, *, chosen=(), texts=None):
    both = {name: texts_together(getattr(kept, name), getattr(gone, name)) for name in kind.joined}
    texts = both if texts is None else texts
    return services.merge(kind, kept, gone, chosen=set(chosen), texts=texts, seen=kind.seen(kept, gone), by=by)


def pair(kind, two):
    return two if kind is CUSTOMERS else tuple(one.instruments.get() for one in two)


def everything():
    """{table: {key: its row as plain data}} of the whole shop but for events and the record."""
    left = {"KeptSum", "Touched", "Event", "AuditEntry", "SignedIn", "Session", "Permission", "ContentType"}
    models = [one for one in apps.get_models(include_auto_created=True) if one.__name__ not in left]
    return {one._meta.label: {row.pk: written(row)["fields"] for row in one._base_manager.all()} for one in models}


@pytest.mark.parametrize("kind", [CUSTOMERS, INSTRUMENTS], ids=["customer", "instrument"])
def test_every_table_that_speaks_of_them_is_tried_here(kind, two):
    """A table that comes later fails this test until `known` fills it too."""
    kept, gone = pair(kind, two)
    assert relations_to(kind.model)
    for key in relations_to(kind.model):
        for one in (kept, gone):
            assert key.model._base_manager.filter(**{key.name: one}).exists(), f"{key} of {one} is not tried"


@pytest.mark.parametrize("kind", [CUSTOMERS, INSTRUMENTS], ids=["customer", "instrument"])
def test_nothing_is_lost_row_by_row(kind, two, ada):
    kept, gone = pair(kind, two)
    before = everything()
    record = merge(kind, kept, gone, ada)
    after = everything()
    folded = {(row["model"], row["pk"]) for row in record.folded}
    columns = {(key.model._meta.label, key.name) for key in relations_to(kind.model)}
    for table, rows in before.items():
        for pk, fields in rows.items():
            if (table, pk) == (kind.model._meta.label, gone.pk):
                assert record.details["fields"] == fields
                continue
            if pk not in after[table]:
                assert (table.lower(), pk) in folded, f"{table} {pk} is gone"
                continue
            for name, value in fields.items():
                now = after[table][pk][name]
                if (table, name) == ("instruments.Instrument", "search_key"):
                    continue  # it follows from whose the instrument is
                if (table, name) in columns:
                    assert now == (kept.pk if value == gone.pk else value), f"{table} {pk} {name}"
                elif table != kind.model._meta.label and table != "worksheets.Taste":
                    assert now == value, f"{table} {pk} {name}"
    assert not kind.model.objects.filter(pk=gone.pk).exists()


@pytest.mark.parametrize("kind", [CUSTOMERS, INSTRUMENTS], ids=["customer", "instrument"])
def test_taken_apart_all_is_as_it_was(kind, two, ada):
    kept, gone = pair(kind, two)
    before = everything()
    record = merge(kind, kept, gone, ada, chosen={"name", "email", "serial", "strings"})
    services.take_apart(kind, record, by=ada)
    after = everything()
    for table in (CustomerMerge._meta.label, InstrumentMerge._meta.label):
        after[table].pop(record.pk if table == kind.record._meta.label else None, None)
    assert after == before


def test_details_are_those_that_were_chosen(two, ada):
    kept, gone = two
    record = merge(CUSTOMERS, kept, gone, ada, chosen={"email"})
    kept.refresh_from_db()
    assert (kept.name, kept.email, kept.company) == ("Mara Fell", "m@example.com", "Fell & Co")
    assert kept.notes == "Rings at noon."
    assert kept.mail_agreed is False  # whoever said no once is not mailed
    assert Customer.objects.with_email("m@example.com").get() == kept
    assert record.details["fields"]["name"] == "M. Fell"


@pytest.mark.parametrize(("one", "other", "holds"), [(True, True, True), (True, False, False), (False, True, False)])
def test_the_stricter_consent_holds(ada, one, other, holds):
    kept, gone = factories.customer(mail_agreed=one), factories.customer(mail_agreed=other)
    merge(CUSTOMERS, kept, gone, ada)
    assert Customer.objects.get().mail_agreed is holds


def test_an_issued_invoice_keeps_its_words_and_is_found_under_the_one_that_stayed(two, ada):
    kept, gone = two
    said = {one.pk: one.snapshot for one in Invoice.objects.all()}
    merge(CUSTOMERS, kept, gone, ada)
    assert {one.pk: one.snapshot for one in kept.invoices.all()} == said


def test_likings_of_one_kind_are_joined(two, ada):
    merge(CUSTOMERS, *two, ada)
    assert Taste.objects.get(customer=two[0]).ranges == {"relief": [0.1, 0.2], "height_12": [1.5, 1.8]}


def test_two_sets_of_strings_are_never_mixed(two, ada):
    kept, gone = pair(INSTRUMENTS, two)
    seven = [STRINGS[0] | {"number": number, "diameter_mm": 0.3} for number in range(1, 8)]
    instruments.fit_strings(gone, seven)
    merge(INSTRUMENTS, kept, gone, ada)
    assert [one.diameter_mm for one in InstrumentString.objects.filter(instrument=kept)] == [0.25]


def test_the_history_says_who_merged_what(two, ada):
    kept, gone = two
    merge(CUSTOMERS, kept, gone, ada)
    told = Event.objects.filter(what="merged")
    assert {one.order_id for one in told} == set(WorkOrder.objects.values_list("pk", flat=True))
    assert all("M. Fell" in one.text and one.by == ada for one in told)


def test_links_go_on_working(two, ada, client):
    kept, gone = two
    link = orders.link_for_mail(gone.orders.get(), by=ada)
    merge(CUSTOMERS, kept, gone, ada)
    assert client.get(f"/yours/{orders.token_of(link)}/").status_code == 200


def test_what_came_later_stays_when_they_are_taken_apart(two, ada):
    kept, gone = two
    record = merge(CUSTOMERS, kept, gone, ada)
    later = money_builders.order(ada, instrument=kept.instruments.first())
    Customer.objects.get(pk=kept.pk).save()
    Customer.objects.filter(pk=kept.pk).update(company="Changed since")
    services.take_apart(CUSTOMERS, record, by=ada)
    kept.refresh_from_db()
    assert later in kept.orders.all()
    assert kept.company == "Changed since"
    assert Customer.objects.get(pk=gone.pk).orders.count() == 1


def test_merged_on_and_on_the_first_can_still_be_taken_out(two, ada):
    kept, gone = two
    third = factories.customer(name="Mara F.", email="")
    first = merge(CUSTOMERS, kept, gone, ada)
    merge(CUSTOMERS, third, Customer.objects.get(pk=kept.pk), ada)
    assert CustomerMerge.kept_instead_of(gone.pk) == third
    first.refresh_from_db()
    services.take_apart(CUSTOMERS, first, by=ada)
    assert Customer.objects.get(pk=gone.pk).orders.count() == 1
    with pytest.raises(services.NotAllowed, match="apart already"):
        services.take_apart(CUSTOMERS, first, by=ada)


def test_refusals(two, ada):
    kept, gone = two
    seen = CUSTOMERS.seen(kept, gone)
    asked = {"chosen": set(), "texts": {}, "by": ada}
    with pytest.raises(services.NotAllowed, match="no longer there"):
        services.merge(CUSTOMERS, kept, kept, seen=CUSTOMERS.seen(kept, kept), **asked)
    Customer.objects.filter(pk=gone.pk).update(phone="1")
    with pytest.raises(services.NotAllowed, match="meanwhile"):
        services.merge(CUSTOMERS, kept, gone, seen=seen, **asked)
    gone.refresh_from_db()
    merge(CUSTOMERS, kept, gone, ada)
    with pytest.raises(services.NotAllowed, match="no longer there"):
        services.merge(CUSTOMERS, kept, gone, seen=seen, **asked)


def test_who_was_erased_stays_apart_and_nothing_of_the_other_is_kept(two, ada):
    kept, gone = two
    record = merge(CUSTOMERS, kept, gone, ada)
    WorkOrder.objects.update(state=State.COLLECTED)
    for invoice in Invoice.objects.all():
        billing.receive(invoice.order, amount=invoice.total, kind="cash", key=money_builders.key(), by=ada)
    left = erasing.erase(Customer.objects.get(pk=kept.pk), by=ada)
    record.refresh_from_db()
    assert (record.details, record.before, record.folded) == ({}, {}, [])
    assert "Fell" not in " ".join(Event.objects.values_list("text", flat=True))
    with pytest.raises(services.NotAllowed, match="erased"):
        services.take_apart(CUSTOMERS, record, by=ada)
    with pytest.raises(services.NotAllowed, match="erased"):
        merge(CUSTOMERS, factories.customer(), left, ada)
