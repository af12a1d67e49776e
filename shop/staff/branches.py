"""What is done to branches: a second one is opened, they are changed, peopled, closed, and taken away again."""

from django.db import transaction
from django.db.models import ProtectedError

from shop.staff import audit, hooks
from shop.staff.models import Branch, Person, Workshop
from shop.staff.services import NotAllowed

SETTINGS, RIGHTS = audit.AuditKind.SETTINGS, audit.AuditKind.RIGHTS


@transaction.atomic
def open_branch(details, *, first_name="", first_mark=""):
    """A new branch with `details` ({field: value}). With the second one everybody works where they always did.

    What the workshop had until then is the first branch's, which is now called `first_name`.
    """
    here = Workshop.objects.select_for_update().get(pk=Workshop.here().pk)
    if not here.has_branches:
        _name_first(first_name or here.name[:60], first_mark)
    branch = Branch.objects.create(**details)
    here.has_branches = True
    here.save(update_fields=["has_branches"])
    audit.write(SETTINGS, f"A new branch: {branch}.")
    return branch


def _name_first(name, mark):
    first = Branch.first()
    first.name, first.mark = name, mark
    first.save(update_fields=["name", "mark"])
    first.people.add(*Person.objects.filter(branches=None))


def check_mark(branch, mark):
    """Raise NotAllowed when numbers with the branch's mark are about, and it would get another one."""
    if branch.mark and mark != branch.mark and branch.series.exists():
        raise NotAllowed(f"Numbers with the mark {branch.mark} are on papers already; it stays.")
    if not mark and branch != Branch.first():
        raise NotAllowed("Write a mark, so that its numbers can be told from the others'.")


@transaction.atomic
def put_people(branch, people):
    """`people`, and nobody else, work in `branch`. Owners see it anyway."""
    before = set(branch.people.all())
    branch.people.set(people)
    for words, changed in (("now works in", set(people) - before), ("no longer works in", before - set(people))):
        for person in sorted(changed, key=str):
            audit.write(RIGHTS, f"{person} {words} {branch}.")


@transaction.atomic
def close(branch):
    """Nothing is booked in there any more; what was done there stays. Raises NotAllowed while something is to do."""
    if not Branch.objects.select_for_update().filter(is_active=True).exclude(pk=branch.pk).exists():
        raise NotAllowed("It is the only branch that is open.")
    problems = [sentence for function in hooks.keeps_open if (sentence := function(branch))]
    if problems:
        raise NotAllowed(" ".join(problems))
    _set_active(branch, False, "closed")


@transaction.atomic
def open_again(branch):
    _set_active(branch, True, "open again")


def _set_active(branch, is_active, word):
    branch.is_active = is_active
    branch.save(update_fields=["is_active"])
    audit.write(SETTINGS, f"The branch {branch} is {word}.")


@transaction.atomic
def take_away(branch):
    """A branch that was opened by mistake goes again. Raises NotAllowed once anything belongs to it."""
    if branch == Branch.first():
        raise NotAllowed("It is the branch that the workshop began with; it stays.")
    name = str(branch)
    try:
        with transaction.atomic():
            branch.delete()
    except ProtectedError as error:
        raise NotAllowed(f"Orders, parts or papers belong to {name}, so it stays. It can be closed.") from error
    Workshop.objects.update(has_branches=Branch.objects.count() > 1)
    audit.write(SETTINGS, f"The branch {name} is taken away again.")
