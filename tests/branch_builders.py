"""A workshop with two branches: the High Street, where it began, and the Harbour, whose mark is H.

Cleo and Ben work in the High Street, Hanna and Hugo in the Harbour; Ada owns both.
"""

from dataclasses import dataclass

from shop.staff.branches import open_branch
from shop.staff.models import Branch, Person
from shop.staff.roles import Role
from tests import factories


@dataclass(frozen=True)
class Two:
    street: Branch
    harbour: Branch
    ada: Person
    cleo: Person
    ben: Person
    hanna: Person
    hugo: Person


def two(ada, cleo, ben, **harbour):
    """Open the second branch, and let two people work there."""
    new = open_branch({"name": "Harbour", "mark": "H"} | harbour, first_name="High Street")
    hanna, hugo = factories.person("hanna", Role.COUNTER), factories.person("hugo", Role.BENCH)
    new.people.add(hanna, hugo)
    return Two(Branch.first(), new, *(fresh(one) for one in (ada, cleo, ben, hanna, hugo)))


def fresh(person):
    """The person as read anew: what they see is read once."""
    return Person.objects.get(pk=person.pk)
