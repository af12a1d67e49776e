"""What every page's template may rely on."""

from django.conf import settings

from shop.staff.models import Workshop


def workshop(request):
    """`workshop`, `may` (the signed-in person's capabilities) and `mail_is_local` (no mail server is named)."""
    user = getattr(request, "user", None)
    return {
        "workshop": getattr(request, "workshop", None) or Workshop.here(),
        "may": user.capabilities if user is not None and user.is_authenticated else frozenset(),
        "mail_is_local": settings.MAIL_IS_LOCAL,
    }
