"""What every page's template may rely on."""

from django.conf import settings

from shop.staff.branching import NOWHERE, standing
from shop.staff.models import Workshop
from shop.staff.places import places_for


def workshop(request):
    """`workshop`, `may` (what the signed-in person may do), `places` and `mail_is_local` (no mail server is named).

    `branches` are those between which the person can choose, and `branch_here` is the one chosen; where there is no
    choice there are none.
    """
    user = getattr(request, "user", None)
    may = user.capabilities if user is not None and user.is_authenticated else frozenset()
    return {
        "workshop": getattr(request, "workshop", None) or Workshop.here(),
        "may": may,
        "places": places_for(may, request.path),
        "mail_is_local": settings.MAIL_IS_LOCAL,
        **(standing(request) if may else NOWHERE),
    }
