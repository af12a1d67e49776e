"""An address that only takes a form, typed or loaded again, says so and leads back."""

import pytest

from shop.lib.only_forms import page_above

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("path", "above"),
    [("/orders/26-0001/promise/", "/orders/26-0001/"), ("/stock/1/count/", "/stock/1/"), ("/views/keep/", "/"),
     ("/office/branches/1/close/", "/office/branches/1/"), ("/lock/", "/")],
)  # fmt: skip
def test_it_leads_to_the_page_above(as_person, ada, path, above):
    assert page_above(path) == above
    answer = as_person(ada).get(path)
    assert (answer.status_code, answer["Allow"]) == (405, "POST")
    assert f'href="{above}">To the page it belongs to' in answer.text


def test_a_wrong_way_of_asking_is_answered_as_ever(as_person, ada):
    answer = as_person(ada).delete("/orders/")
    assert (answer.status_code, answer.content) == (405, b"")
