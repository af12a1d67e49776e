"""Who works here, and where: the lists' columns, their order, and their tables for a spreadsheet."""

from django.db.models import F
from django.utils import timezone

from shop.lib.sorting import Column, Sorting
from shop.staff.branching import several
from shop.staff.models import Branch, Person

COLUMNS = (
    Column("name", "Name", ("shown_name", "pk")), Column("username", "Signs in as", ("username",)),
    Column("role", "Role", ("role", "shown_name", "pk")), Column("branches", "Works in"),
    Column("last", "Last here", (F("last_login").asc(nulls_last=True), "pk"), down=True),
)  # fmt: skip
BRANCH_COLUMNS = (
    Column("name", "Name", ("name", "pk")), Column("numbers", "Its numbers", ("mark", "pk")),
    Column("people", "Who works there"), Column("standing", "Standing", ("-is_active", "name")),
)  # fmt: skip
BRANCH_HEADS = ("branch", "mark", "who works there", "standing", "address", "telephone", "e-mail")
DEVICE_COLUMNS = (
    Column("device", "Device", ("device", "-seen_at")), Column("from", "From", ("address", "-seen_at")),
    Column("used", "Last used", (F("seen_at").asc(nulls_last=True), "session_key"), down=True),
)  # fmt: skip
DEVICE_HEADS = ("device", "from", "signed in", "last used")
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
        last = _moment(one.last_login)
        works_in = [", ".join(branch.name for branch in one.branches.all())] if has_branches else []
        yield (
            one.shown_name, one.username, one.get_role_display(), "yes" if one.is_active else "no", one.email, last,
            *works_in,
        )  # fmt: skip


def branches(query):
    """(branches with their people, sorting) as the address asks; none where there is only one."""
    sorting = Sorting(BRANCH_COLUMNS, query.get("sort"), usual="name")
    found = Branch.objects.all() if several() else Branch.objects.none()
    return found.prefetch_related("people").order_by(*sorting.order_by), sorting


def branch_rows(found):
    for one in found:
        people = ", ".join(str(person) for person in one.people.all())
        standing = "open" if one.is_active else "closed"
        yield one.name, one.mark, people, standing, one.address, one.phone, one.email


def devices(person, query):
    """(where `person` is signed in, sorting) as the address asks."""
    sorting = Sorting(DEVICE_COLUMNS, query.get("sort"), usual="-used")
    return person.devices.order_by(*sorting.order_by), sorting


def device_rows(found):
    for one in found:
        yield one.device, one.address, _moment(one.began_at), _moment(one.seen_at)


def _moment(at):
    return f"{timezone.localtime(at):%Y-%m-%d %H:%M}" if at else ""
