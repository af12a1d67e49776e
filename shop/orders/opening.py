"""When customers can come: the hours that were written down, without the days on which the workshop is closed."""

from django.db.models import Q
from django.utils import timezone

from shop.lib.dates import FARTHEST_DAYS, today
from shop.lib.opening import Opening, week_of
from shop.lib.templatetags.said import day as said
from shop.orders.models import ClosedDays
from shop.staff.models import Workshop


def opening_at(place, *, since=None):
    """The Opening of `place`, the workshop or one branch of it, from `since` on. One query."""
    branch = getattr(place, "branch", None)
    own = Q(branch=None) | Q(branch=branch) if branch else Q()
    closed = ClosedDays.objects.filter(own, last__gte=since or today()).values_list("first", "last", "name")
    return Opening(week_of(place.opening_hours), tuple(closed))


def keep_week(place, week):
    """Write down the hours of `place`: of its branch, or of a workshop that has none."""
    told = getattr(place, "branch", None) or Workshop.here()
    told.opening_hours = str(week)
    told.save(update_fields=["opening_hours"])


def local_now():
    """The time on the wall of the workshop."""
    return timezone.localtime()


def problem_with_promise(day, place, *, now=None):
    """Why nothing can be promised for `day`, a sentence; '' when it can. At most one query."""
    now = now or today()
    if day < now:
        return f"{said(day)} is past. Promise a day from today on."
    if (day - now).days > FARTHEST_DAYS:
        return f"{said(day)} is more than two years away. Promise a nearer day."
    opening = opening_at(place, since=now)
    if not opening.is_shut(day):
        return ""
    why, nearest = opening.closed_for(day), opening.open_day(day)
    open_again = f" It is open on {said(nearest)}." if nearest else ""
    return f"The workshop is closed on {said(day)}{f' ({why})' if why else ''}.{open_again}"
