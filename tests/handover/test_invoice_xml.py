"""The electronic invoice by itself: the bytes that the kept paper carries, for those who may see money."""

from django.urls import reverse

from shop.handover import making
from tests.papers import builders
from tests.papers.invoice_rules import carried


def test_it_is_what_the_paper_carries(as_person, cleo):
    builders.shop()
    invoice = builders.issued(cleo, 2)
    answer = as_person(cleo).get(reverse("invoice-xml", args=[invoice.pk]))
    assert answer.content == carried(making.invoice_paper(invoice).read())
    assert answer["Content-Type"] == "application/xml"
    assert f"{invoice.number}.xml" in answer["Content-Disposition"]


def test_a_changed_shop_changes_nothing_that_was_sent(as_person, cleo):
    builders.shop()
    invoice = builders.issued(cleo, 2)
    before = as_person(cleo).get(reverse("invoice-xml", args=[invoice.pk])).content
    builders.shop(name="Quite Another Workshop", country="US")
    assert as_person(cleo).get(reverse("invoice-xml", args=[invoice.pk])).content == before


def test_who_may_not_see_money_gets_none(as_person, ben, cleo):
    builders.shop()
    invoice = builders.issued(cleo, 1)
    assert as_person(ben).get(reverse("invoice-xml", args=[invoice.pk])).status_code == 403


def test_a_damaged_paper_is_said(as_person, cleo, settings):
    builders.shop()
    invoice = builders.issued(cleo, 1)
    paper = making.invoice_paper(invoice)
    paper.file.storage.delete(paper.file.name)
    answer = as_person(cleo).get(reverse("invoice-xml", args=[invoice.pk]))
    assert answer.status_code == 503
    assert "missing" in answer.content.decode()
