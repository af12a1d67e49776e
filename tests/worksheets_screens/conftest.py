"""One worksheet on the bench, and the people around it."""

import uuid

import pytest

from tests import factories, worksheet_builders


@pytest.fixture
def sheet(ben):
    """Ben's open worksheet of a six-string with nothing read yet; its order is on the bench."""
    order = worksheet_builders.at_bench(factories.instrument(), ben)
    return worksheet_builders.worksheet(order, ben)


@pytest.fixture
def type_in(as_person, sheet):
    """Post one reading as the page's script does; gives the response."""

    def post(person, *, step="relief", stage="bench", key="relief", raw="0.2", **more):
        sent = {"client_id": str(uuid.uuid4()), "stage": stage, "key": key, "raw": raw} | more
        return as_person(person).post(f"/bench/{sheet.pk}/{step}/save/", sent, headers={"Accept": "application/json"})

    return post
