"""Who works here as a list: its columns, its order, and its table for a spreadsheet."""

from django.db.models import F
from django.utils import timezone

from shop.lib.sorting import Column, Sorting
from shop.staff.branching import several
from shop.staff.models import Person

COLUMNS = (
    Column("name", "Name", ("shown_name", "pk")), Column("username", "Signs in as", ("username",)),
    Column("role", "Role", ("role", "shown_name", "pk")), Column("branches", "Works in"),
    Column("last", "Last here", (F("last_login").asc(nulls_last=True), "pk"), down=True),
)  # fmt: skip
HEADS = ("name", "signs in as", "role", "may sign in", "e-mail", "last here")


def people(query):
    """(people, sorting) as the address asks; who may not sign in any more comes last."""
    has_branches = several()
    columns = [one for one in COLUMNS if has_branches or one.key != "branches"]
    sorting = Sorting(columns, query.get("sort"), usual="name")
    found = Person.objects.order_by("-is_active", *sorting.order_by)
    return (found.prefetch_related("branches") if has_branches else found), sorting


def heads():
    """The head of the table; where somebody works stands in it where there are several branches."""
    return (*HEADS, "works in") if several() else HEADS


def rows(found):
    has_branches = several()
    for one in found:
        last = f"{timezone.localtime(one.last_login):%Y-%m-%d %H:%M}" if one.last_login else ""
        works_in = [", ".join(branch.name for branch in one.branches.all())] if has_branches else []
        yield (
            one.shown_name, one.username, one.get_role_display(), "yes" if one.is_active else "no", one.email, last,
            *works_in,
        )  # fmt: skip
