"""All open worksheets judged anew by today's profiles, tastes and rule: looked at first, taken over only when asked."""

from dataclasses import asdict, dataclass, replace

from django.db import transaction
from django.utils import timezone

from shop.worksheets import profiles, tastes
from shop.worksheets.evaluation import evaluate_all
from shop.worksheets.models import BenchRules, Recheck, TargetProfile, Worksheet
from shop.worksheets.services.common import note
from shop.worksheets.services.errors import Refused
from shop.worksheets.sheet import Sheet

AT_ONCE = 50  # sheets judged in one pass: some tenths of a second, so that stopping is prompt
State = Recheck.State


@dataclass(frozen=True)
class Change:
    """A finding whose verdict turns; '' where there is no such finding."""

    sheet: int
    order: str
    step: str
    key: str
    before: str
    after: str
    headline: str


@dataclass(frozen=True)
class Renewed:
    """A worksheet with the targets, taste and rule that it would have if it began today."""

    worksheet: Worksheet
    targets: dict
    taste: dict
    rule: str


@transaction.atomic
def save_rule(rules):
    """How the shop judges from now on: worksheets that begin, and open ones once they are taken over."""
    saved, _ = BenchRules.objects.update_or_create(pk=1, defaults={"rule": rules.rule})
    return saved


@transaction.atomic
def begin(*, by):
    """A new re-check of every open worksheet; one that is still running is stopped."""
    Recheck.objects.filter(state=State.RUNNING).update(state=State.STOPPED)
    ids = list(Worksheet.objects.filter(signed_at=None).order_by("pk").values_list("pk", flat=True))
    return Recheck.objects.create(
        rule=BenchRules.here().rule, sheets=ids, at=timezone.now(), by=by,
        state=State.RUNNING if ids else State.FINISHED,
    )  # fmt: skip


@transaction.atomic
def go_on(recheck, *, at_once=AT_ONCE):
    """Judge the next sheets in one pass and keep what turns. A stopped one goes on where it was."""
    held = Recheck.objects.select_for_update().get(pk=recheck.pk)
    if held.state not in (State.RUNNING, State.STOPPED):
        return held
    part = held.sheets[held.done : held.done + at_once]
    held.changes = [*held.changes, *(asdict(one) for one in changes_of(part, rule=held.rule))]
    held.done = min(held.done + at_once, len(held.sheets))
    held.state = State.FINISHED if held.done == len(held.sheets) else State.RUNNING
    held.save(update_fields=["changes", "done", "state"])
    return held


@transaction.atomic
def stop(recheck):
    """Stop it; what was found stays, nothing of a worksheet has been changed."""
    Recheck.objects.filter(pk=recheck.pk, state=State.RUNNING).update(state=State.STOPPED)


@transaction.atomic
def take_over(recheck, *, by):
    """Give every sheet of a finished re-check that is still open its new targets and rule. Returns how many."""
    held = Recheck.objects.select_for_update().get(pk=recheck.pk)
    if held.state != State.FINISHED:
        raise Refused("Let the re-check come to its end first.")
    taken = 0
    for one in renewed(open_sheets(held.sheets, lock=True), rule=held.rule):
        taken += _take(one, by)
    held.state = State.TAKEN
    held.save(update_fields=["state"])
    return taken


def _take(one, by):
    sheet = one.worksheet
    if (sheet.targets, sheet.taste, sheet.rule) == (one.targets, one.taste, one.rule):
        return 0
    sheet.targets, sheet.taste, sheet.rule = one.targets, one.taste, one.rule
    sheet.save(update_fields=["targets", "taste", "rule"])
    note(sheet, by=by, what="targets_renewed", text="The worksheet took over today's targets and rule.")
    return 1


def changes_of(ids, *, rule):
    """The Changes of these sheets: those with other targets or another rule, before and after, judged together."""
    sheets = open_sheets(ids)
    new = renewed(sheets, rule=rule)
    new = [one for one in new if (one.worksheet.targets, one.worksheet.rule) != (one.targets, one.rule)]
    before = [_plain(one.worksheet) for one in new]
    after = [replace(plain, targets=one.targets, rule=one.rule) for plain, one in zip(before, new, strict=True)]
    found = evaluate_all([*before, *after])
    pairs = zip(new, found[: len(new)], found[len(new) :], strict=True)
    return [change for one, first, last in pairs for change in _turned(one.worksheet, first, last)]


def open_sheets(ids, *, lock=False):
    """The open worksheets among `ids` with everything that judging asks for. Four queries."""
    found = Worksheet.objects.filter(pk__in=ids, signed_at=None).order_by("pk")
    if lock:
        found = found.select_for_update(of=("self",))
    return list(
        found.select_related("order__instrument__customer").prefetch_related("readings", "marks", "acceptances")
    )


def renewed(sheets, *, rule):
    """A Renewed for each sheet; one whose profile is gone keeps its own targets. Three queries."""
    known = {one.name: profiles.targets_of(one) for one in TargetProfile.objects.prefetch_related("ranges")}
    bases = [known.get(one.profile_name) for one in sheets]
    instruments = [one.order.instrument for one in sheets]
    made = tastes.snapshots(instruments, [base or {} for base in bases])
    return [
        Renewed(sheet, sheet.targets if base is None else targets, sheet.taste if base is None else taste, rule)
        for sheet, base, (targets, taste) in zip(sheets, bases, made, strict=True)
    ]


def _plain(worksheet):
    taken = {one.finding: one for one in worksheet.acceptances.all() if one.withdrawn_at is None}
    marks = {one.step: one for one in worksheet.marks.all()}
    return Sheet.of(worksheet, readings=worksheet.readings.all(), marks=marks, acceptances=taken)


def _turned(sheet, first, last):
    was, now = ({one.key: one for one in found.findings} for found in (first, last))
    for key in dict.fromkeys([*was, *now]):
        before, after = (found[key].verdict if key in found else "" for found in (was, now))
        if before != after:
            told = now.get(key) or was[key]
            yield Change(sheet.pk, sheet.order.number, told.step, key, before, after, told.headline)
