"""What the readings of a worksheet say: every check, in words and numbers. It never raises on odd input."""

from dataclasses import replace
from functools import partial
from itertools import islice

from geometry.errors import GeometryError
from shop.staff.models import Workshop
from shop.worksheets.checks import CHECKS
from shop.worksheets.checks.bench import DO_NOT_FIT, JUDGED_PARTS, MOVING_PARTS, Bench
from shop.worksheets.families.parts import BENCH, RECEIVED
from shop.worksheets.findings import CANNOT, MISSING, Evaluation, Finding
from shop.worksheets.judging import judge_all
from shop.worksheets.numbers import numbers_of
from shop.worksheets.order_of_work import in_order
from shop.worksheets.sheet import Sheet
from shop.worksheets.wording.said import Said

BEFORE_LEFT = (RECEIVED, BENCH)


def evaluate(worksheet, *, received_only=False, unit=None):
    """Every finding of `worksheet` as it stands now.

    `received_only` looks at the as-received readings alone: what was wrong when it came. `unit` is how lengths are
    said; the workshop's own unless given. Four queries.
    """
    sheet = Sheet.load(worksheet)
    if received_only:
        sheet = sheet.only(RECEIVED)
    return evaluate_sheet(sheet, unit=unit or Workshop.here().length_unit, strings_before=_strings_before(worksheet))


def _strings_before(worksheet):
    """The strings that the instrument had when it left last time, or None."""
    order = worksheet.order
    earlier = type(worksheet).objects.filter(
        order__instrument=order.instrument_id, signed_at__isnull=False, started_at__lt=worksheet.started_at
    )
    return earlier.order_by("-signed_at").values_list("strings", flat=True).first()


def evaluate_sheet(sheet, *, unit="mm", strings_before=None):
    """The same from plain data: asks the database nothing."""
    if sheet.family is None or not sheet.strings:
        return Evaluation(sheet=sheet)
    return evaluate_bench(Bench(sheet, Said(unit), strings_before))


def evaluate_all(sheets, *, unit="mm"):
    """The same of many sheets, in their order, in one pass over arrays.

    What the values rest on is asked of geometry for all sheets at once, all that is judged by one rule is judged at
    once, and then what has to be moved is asked for all at once.
    """
    benches = [Bench(one, Said(unit)) if one.family and one.strings else None for one in sheets]
    known = [one for one in benches if one]
    Bench.build_together(known, JUDGED_PARTS)
    for rule in {one.sheet.rule for one in known}:
        of_rule = [one for one in known if one.sheet.rule == rule]
        judged = iter(judge_all([claim for one in of_rule for _, _, claim in one.claims], rule=rule))
        for one in of_rule:
            one.take(list(islice(judged, len(one.claims))))
    Bench.build_together(known, MOVING_PARTS)
    return [evaluate_bench(one) if one else Evaluation(sheet=sheet) for one, sheet in zip(benches, sheets, strict=True)]


def evaluate_bench(bench):
    """Every finding of a sheet on the bench, judged already or not."""
    sheet = bench.sheet
    findings = in_order(sheet.family, [_covered(sheet, one) for check in CHECKS for one in _checked(bench, check)])
    return Evaluation(tuple(findings), _by_step(sheet.family, findings), sheet, partial(numbers_of, bench))


def _by_step(family, findings):
    """Step → the findings to show there: its own, and those of checks that it lists."""
    shown = {step.key: [] for step in family.steps}
    for one in findings:
        for key in {one.step, *family.steps_of_checks.get(one.check, ())} & shown.keys():
            shown[key].append(one)
    return {key: tuple(found) for key, found in shown.items()}


def _checked(bench, check):
    """The check's findings; figures so far out that geometry refuses them are a finding too, never an error."""
    try:
        return check(bench)
    except (GeometryError, ArithmeticError):
        name = check.__name__
        return [Finding(key=name, step=bench.step_of(name), string=None, check=name, verdict=CANNOT,
                        headline=DO_NOT_FIT)]  # fmt: skip


def _covered(sheet, finding):
    """The finding with what was decided about it."""
    taken = sheet.acceptances.get(finding.key)
    if taken is not None and _same(taken.value, finding.value):
        finding = replace(finding, accepted=taken)
    mark = sheet.marks.get(finding.step)
    if finding.verdict == MISSING and mark is not None and mark.state == "skipped":
        finding = replace(finding, waived=mark.reason)
    return finding


def _same(taken, found):
    if taken is None or found is None:
        return taken is found
    return abs(taken - found) <= 1e-9
