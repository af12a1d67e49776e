"""The switch between branches, at a desk in the head of the page and on a telephone in its drawer."""

from decimal import Decimal

import pytest

from shop.stock import services
from tests import branch_builders, factories
from tests.accessible import violations
from tests.stock_builders import part

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
DESK, TELEPHONE = {"width": 1280, "height": 900}, {"width": 390, "height": 844}


@pytest.mark.parametrize("viewport", [DESK, TELEPHONE], ids=["desk", "telephone"])
def test_the_choice_shows_the_other_shelf_on_the_same_page_and_stays(transactional_db, open_as, viewport):
    two = branch_builders.two(factories.ada(), factories.cleo(), factories.ben())
    two.harbour.people.add(two.cleo)
    item = part("Output socket")
    for branch, found in ((two.street, 4), (two.harbour, 1)):
        services.count(item, Decimal(found), by=two.ada, branch=branch)
    page = open_as(two.cleo, "/stock/?show=all", viewport=viewport)

    def shown():
        return page.get_by_role("row").filter(has_text="Output socket").inner_text().split()

    def switch():
        if viewport is TELEPHONE:
            page.locator(".drawer > summary").click()
        return page.get_by_label("Branch in which you work now").locator("visible=true")

    assert "4" in shown()
    picked = switch()
    assert picked.bounding_box()["height"] >= 44
    picked.select_option(label="Harbour")
    page.get_by_text("You work in Harbour now.").wait_for()
    assert page.url.endswith("/stock/?show=all")
    assert "1" in shown()
    page.reload()
    assert switch().locator("option:checked").inner_text() == "Harbour"
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
