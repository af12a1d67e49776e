"""What every page's template may rely on."""

from django.conf import settings

from shop.staff.models import Workshop


def workshop(request):
    """`workshop` (lazily read once a request), `may` (the signed-in person's capabilities), `mail_is_local`."""
    user = getattr(request, "user", None)
    return {
        "workshop": Workshop.here(),
        "may": user.capabilities if user is not None and user.is_authenticated else frozenset(),
        "mail_is_local": settings.MAIL_IS_LOCAL,
    }
