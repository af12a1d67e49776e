"""The lists of this room as their addresses ask for them: the bench's, and the target profiles."""

from django.db.models import Case, Count, F, Q, When

from shop.instruments.kinds import Kind
from shop.lib.sorting import Column, Sorting
from shop.orders.models import WorkOrder
from shop.orders.states import WAITING
from shop.worksheets import profiles
from shop.worksheets.models import TargetProfile

BENCH_COLUMNS = (
    Column("promise", "Promise", ("-priority", F("promised_on").asc(nulls_last=True), "booked_at", "pk")),
    Column("number", "Number", ("number",)), Column("customer", "Customer", ("customer__name", "pk")),
    Column("booked", "Booked in", ("booked_at", "pk"), down=True), Column("since", "State", ("state_since", "pk")),
)  # fmt: skip
AS_KINDS_STAND = Case(*[When(kind=kind, then=place) for place, kind in enumerate(Kind)]).asc()
PROFILE_COLUMNS = (
    Column("kind", "Kind", (AS_KINDS_STAND, "-is_usual", "name")), Column("name", "Name", ("name",)),
    Column("usual", "Usual ones first", ("-is_usual", "name")),
)  # fmt: skip
PROFILE_HEADS = ("profile", "for", "usual", *(f"{label} ({unit})" for _, label, unit in profiles.TARGETS))


def bench(branch, query):
    """(orders at one bench, sorting) as the address asks; those that wait stand behind those to work on."""
    sorting = Sorting(BENCH_COLUMNS, query.get("sort"), usual="promise")
    waits = Case(When(state__in=WAITING, then=1), default=0)
    orders = WorkOrder.objects.at(branch).at_bench().with_parties().annotate(waits=waits)
    return orders.order_by("waits", *sorting.order_by), sorting


def at_bench(branch):
    """(how many to work on, how many that wait). One query."""
    waits = Count("pk", filter=Q(state__in=WAITING))
    counted = WorkOrder.objects.at(branch).at_bench().aggregate(all=Count("pk"), waits=waits)
    return counted["all"] - counted["waits"], counted["waits"]


def target_profiles(query):
    """(profiles with their ranges, sorting) as the address asks."""
    sorting = Sorting(PROFILE_COLUMNS, query.get("sort"), usual="kind")
    return TargetProfile.objects.prefetch_related("ranges").order_by(*sorting.order_by), sorting


def profile_rows(found):
    """A profile a row, its targets in millimetres, degrees and cents as `low … high`, an open end left out."""
    for one in found:
        have = profiles.targets_of(one)
        targets = [_range(*have[key]) if key in have else "" for key in profiles.KEYS]
        yield one.name, one.get_kind_display(), "yes" if one.is_usual else "no", *targets


def _range(low, high):
    return " … ".join("" if end is None else f"{end:g}" for end in (low, high)).strip()
