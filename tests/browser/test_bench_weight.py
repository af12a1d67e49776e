"""What a step weighs on its first load: everything the browser asks for, compressed as the server sends it."""

import gzip

import brotli
import pytest

from tests import factories, worksheet_builders

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
MOST_BYTES = 150_000


def sent(response):
    """Pages go out gzipped, static files as brotli made them when they were collected; faces are packed already."""
    body = response.body()
    if response.url.endswith(".woff2"):
        return len(body)
    return len(brotli.compress(body)) if "/static/" in response.url else len(gzip.compress(body, 6))


@pytest.mark.parametrize("step", ["inspect", "tail", "left"])
def test_a_step_stays_under_its_weight(open_as, chromium, live_server, ben, step):
    sheet = worksheet_builders.worksheet(worksheet_builders.at_bench(factories.instrument(), ben), ben)
    worksheet_builders.store(sheet, ben, worksheet_builders.good_values(relief=0.6))
    signed_in = open_as(ben, "/bench/").context.storage_state()
    context = chromium.new_context(base_url=live_server.url, storage_state=signed_in)
    page, answers = context.new_page(), []
    page.on("response", lambda one: answers.append(one))
    page.goto(f"/bench/{sheet.pk}/{step}/")
    page.wait_for_load_state("networkidle")
    weights = {one.url: sent(one) for one in answers if one.status == 200}
    context.close()
    assert len(weights) > 12
    assert sum(weights.values()) <= MOST_BYTES, weights
