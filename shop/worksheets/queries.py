"""What to show: the bench's list, and how an instrument was left over the years."""

from dataclasses import dataclass

from django.db.models import Max, Prefetch, prefetch_related_objects

from shop.instruments.kinds import Kind
from shop.orders.models import WorkOrder
from shop.orders.states import WAITING, State
from shop.worksheets.families.parts import LEFT
from shop.worksheets.models import Reading, Stage, Standing, TargetProfile, Worksheet


@dataclass(frozen=True)
class BenchJob:
    """One order on the bench's list, with its newest worksheet if there is one."""

    order: WorkOrder
    worksheet: Worksheet | None
    waits_for: str  # '' when it can be worked on
    is_mine: bool  # the person asking has started its worksheet


def bench_jobs(orders, person):
    """BenchJobs of a list of orders, in its order. One query whatever their number."""
    prefetch_related_objects(orders, Prefetch("worksheets", Worksheet.objects.select_related("started_by")))
    return [_job(order, person) for order in orders]


def _job(order, person):
    sheet = next(iter(order.worksheets.all()), None)
    waits = State(order.state).label if order.state in WAITING else ""
    return BenchJob(order, sheet, waits, bool(sheet and sheet.started_by_id == person.pk))


@dataclass(frozen=True)
class LeftValue:
    """One as-left value of a signed worksheet."""

    key: str
    string: int | None
    value: float
    at: object
    worksheet_id: int


def as_left_history(instrument):
    """Every as-left value over the years: {(key, string): [LeftValue, …] oldest first}. One query."""
    rows = (
        Reading.objects.filter(
            worksheet__order__instrument=instrument, worksheet__signed_at__isnull=False,
            stage=LEFT, standing=Standing.HOLDS,
        )
        .order_by("worksheet__signed_at", "pk")
        .values_list("key", "string", "value", "worksheet__signed_at", "worksheet_id")
    )  # fmt: skip
    newest = {(row[4], row[0], row[1]): LeftValue(*row) for row in rows}
    history = {}
    for one in newest.values():
        if one.value is not None:
            history.setdefault((one.key, one.string), []).append(one)
    return history


def last_left(instrument, *, before=None):
    """How it was left last time: {(key, string): LeftValue}. `before` leaves out that worksheet and later ones."""
    sheets = Worksheet.objects.filter(order__instrument=instrument, signed_at__isnull=False)
    if before is not None:
        sheets = sheets.filter(started_at__lt=before.started_at)
    last = sheets.order_by("-signed_at").first()
    if last is None:
        return {}
    rows = last.readings.filter(stage=LEFT, standing=Standing.HOLDS).order_by("pk")
    return {
        (one.key, one.string): LeftValue(one.key, one.string, one.value, last.signed_at, last.pk)
        for one in rows if one.value is not None
    }  # fmt: skip


def open_sheet_of(order):
    """The order's worksheet that is not signed yet, or None."""
    return order.worksheets.filter(signed_at=None).first()


def stamp(worksheet):
    """A short text that changes whenever anything about the worksheet does. Three small queries.

    Every decision about a worksheet leaves a line of the order's history; readings and remarks are counted themselves.
    """
    newest = (
        worksheet.readings.aggregate(last=Max("pk")), worksheet.notes.aggregate(last=Max("pk")),
        worksheet.order.events.aggregate(last=Max("pk")),
    )  # fmt: skip
    return ".".join(str(one["last"] or 0) for one in newest)


def kinds_without_profile():
    """The kinds of instrument, in words, for which there is no profile yet. One query."""
    have = set(TargetProfile.objects.order_by().values_list("kind", flat=True))
    return [kind.label for kind in Kind if kind not in have]


def noted(worksheet_id, keys):
    """{key: what was typed last} of a worksheet's readings that are taken once. One query."""
    rows = Reading.objects.filter(worksheet=worksheet_id, key__in=keys, standing=Standing.HOLDS).order_by("pk")
    return {key: raw for key, raw in rows.values_list("key", "raw") if raw}


def finished_alike(worksheet, *, most=400):
    """The newest signed worksheets of other instruments with the same bridge family, one an instrument.

    Only what `usual` needs of them, as dicts. One query.
    """
    sheets = (
        Worksheet.objects.filter(family=worksheet.family, signed_at__isnull=False)
        .exclude(order__instrument=worksheet.order.instrument_id)
        .order_by("-signed_at")
        .values("pk", "signed_at", "strings", "spec", "reference_pitch_hz", "order__instrument")[:most]
    )  # fmt: skip
    newest = {}
    for one in sheets:
        newest.setdefault(one["order__instrument"], one)
    return list(newest.values())


def kept_readings(worksheet_ids, keys):
    """{worksheet id: its readings that hold, oldest first}, without those as received. One query."""
    rows = Reading.objects.filter(
        worksheet__in=worksheet_ids, key__in=keys, standing=Standing.HOLDS, stage__in=(Stage.BENCH, Stage.LEFT)
    ).order_by("pk").only("worksheet", "stage", "step", "key", "string", "raw", "value", "standing")  # fmt: skip
    found = {}
    for one in rows:
        found.setdefault(one.worksheet_id, []).append(one)
    return {pk: tuple(readings) for pk, readings in found.items()}


def kept_findings(kind, most):
    """What the newest `most` signed worksheets of a kind of instrument kept: dicts with findings and strings.

    One query, and only the part of the outcome that is asked for.
    """
    rows = (
        Worksheet.objects.filter(signed_at__isnull=False, order__instrument__kind=kind)
        .order_by("-signed_at")
        .values_list("pk", "order__number", "signed_at", "strings", "outcome__findings")[:most]
    )
    names = ("pk", "order", "signed_at", "strings", "findings")
    return [dict(zip(names, (*row[:4], row[4] or []), strict=True)) for row in rows]
