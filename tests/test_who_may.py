"""Every address against every role, and against nobody."""

import pytest

from shop.staff.roles import Role
from tests import factories
from tests.every_address import WHO, address_of, named_addresses

pytestmark = pytest.mark.django_db
ROLES = {"C": Role.COUNTER, "B": Role.BENCH, "O": Role.OWNER}
THINGS = {"number": "26-9999"}


def ask(client, path):
    """GET, or POST where GET is not answered."""
    answer = client.get(path)
    return client.post(path) if answer.status_code == 405 else answer


def test_the_table_is_whole():
    assert set(named_addresses()) == set(WHO)


@pytest.mark.parametrize("letter", ROLES)
def test_roles(client, letter):
    client.force_login(factories.person("somebody", ROLES[letter]))
    wrong = []
    for name, arguments in named_addresses().items():
        if WHO[name] == "A" or name in ("sign-out", "lock"):  # these end or close what the others need
            continue
        status = ask(client, address_of(name, arguments, THINGS)).status_code
        forbidden = letter not in WHO[name]
        if (status == 403) != forbidden or status >= 500:
            wrong.append((name, status, "should be forbidden" if forbidden else "should be allowed"))
    assert wrong == []


def test_nobody_sees_anything(client):
    """Without signing in, every address but the sign-in leads there, and says nothing of what exists."""
    for name, arguments in named_addresses().items():
        if WHO[name] == "A":
            continue
        for answer in (client.get, client.post):
            found = answer(address_of(name, arguments, THINGS))
            assert found.status_code in (302, 405), name
            if found.status_code == 302:
                assert found["Location"].startswith("/sign-in/"), name
