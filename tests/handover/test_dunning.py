"""Reminders: level by level, at the shop's intervals, never sooner, never two at once."""

import pytest
from django.urls import reverse

from shop.billing import services as billing
from shop.handover import dunning, rewording, wordings
from shop.handover.models import MailState, OutgoingMail, Reminder
from shop.orders.services import NotAllowed
from tests import factories, money_builders


@pytest.fixture
def invoice(cleo):
    factories.workshop(payment_days=14, email="workshop@example.com")
    instrument = factories.instrument(factories.customer(email="mara@example.com"))
    return billing.issue(money_builders.order(cleo, instrument=instrument), by=cleo)


def names():
    return list(OutgoingMail.objects.order_by("pk").values_list("name", flat=True))


def test_three_levels_at_their_intervals_and_no_fourth(invoice, on, cleo):
    """Due after 14 days; reminders 7, 14 and 14 days after that and one another, by the usual intervals."""
    for days, allowed in ((14, False), (20, False), (21, True), (34, False), (35, True), (48, False), (49, True)):
        on(days)
        if allowed:
            assert dunning.remind(invoice, by=cleo)
        else:
            with pytest.raises(NotAllowed, match=r"may go from"):
                dunning.remind(invoice, by=cleo)
    on(300)
    with pytest.raises(NotAllowed, match="All three"):
        dunning.remind(invoice, by=cleo)
    assert names() == list(wordings.REMINDERS)
    assert list(Reminder.objects.values_list("level", flat=True)) == [1, 2, 3]


def test_the_shops_own_interval_and_words_hold(invoice, on, cleo):
    body = "Pay {open}, {customer}.\n\n{facts}"
    rewording.reword("reminder", subject="Hello {invoice}", body=body, days=30, by=cleo)
    on(43)
    with pytest.raises(NotAllowed):
        dunning.remind(invoice, by=cleo)
    on(44)
    mail = dunning.remind(invoice, by=cleo)
    assert mail.subject == f"Hello {invoice.number}"
    assert "Pay €85.00, Mara Fell." in mail.text


def test_pressing_twice_sends_once(invoice, on, cleo):
    on(21)
    dunning.remind(invoice, by=cleo)
    with pytest.raises(NotAllowed):
        dunning.remind(invoice, by=cleo)
    assert names() == ["reminder"]


@pytest.mark.parametrize("state", [MailState.FAILED, MailState.WITHDRAWN])
def test_one_that_never_went_does_not_count(invoice, on, cleo, state):
    on(21)
    mail = dunning.remind(invoice, by=cleo)
    OutgoingMail.objects.filter(pk=mail.pk).update(state=state)
    assert dunning.remind(invoice, by=cleo).name == "reminder"
    assert Reminder.objects.count() == 1


def test_what_is_paid_or_taken_back_is_left_alone(invoice, on, cleo):
    on(21)
    billing.credit(invoice, reason="Wrong.", by=cleo)
    with pytest.raises(NotAllowed, match="Nothing of this invoice is open"):
        dunning.remind(invoice, by=cleo)
    assert not dunning.overdue(cleo, {})[0].exists()


def test_who_cannot_be_mailed_is_not_reminded_and_it_is_said(invoice, on, cleo):
    customer = invoice.order.customer
    customer.mail_agreed = False
    customer.save(update_fields=["mail_agreed"])
    on(21)
    assert dunning.remind(invoice, by=cleo) is None
    assert not Reminder.objects.exists()
    (row,) = dunning.looked_at(list(dunning.overdue(cleo, {})[0]))
    assert ("does not want" in row.unreachable, row.by_post, row.may_mail) == (True, True, False)


def test_the_page_reminds_of_what_is_ticked(invoice, as_person, on, cleo):
    client = as_person(cleo)
    assert "No invoice is overdue." in client.get(reverse("reminders")).content.decode()
    on(21)
    page = client.get(reverse("reminders")).content.decode()
    assert f"Remind of {invoice.number}" in page
    client.post(reverse("reminders-mail"), {"invoice": [invoice.pk, "x", 10**30]})
    assert names() == ["reminder"]
    again = client.post(reverse("reminders-mail"), {"invoice": [invoice.pk]}, follow=True)
    assert "may go from" in again.content.decode()
    nothing = client.post(reverse("reminders-mail"), follow=True)
    assert "No invoice was ticked." in nothing.content.decode()


def test_the_list_takes_the_same_queries_for_more(invoice, on, cleo, django_assert_max_num_queries):
    for _ in range(4):
        instrument = factories.instrument(factories.customer(email="mara@example.com"))
        billing.issue(money_builders.order(cleo, instrument=instrument), by=cleo)
    on(21)
    with django_assert_max_num_queries(6):
        assert len(dunning.looked_at(list(dunning.overdue(cleo, {})[0]))) == 5
