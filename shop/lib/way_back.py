"""Where a form leads back to: an address that came with it, as long as it is one of ours."""

from django.utils.http import url_has_allowed_host_and_scheme


def way_back(asked, otherwise):
    """`asked` if it is a path of this host, else the path `otherwise`."""
    is_ours = asked.startswith("/") and url_has_allowed_host_and_scheme(asked, allowed_hosts=None)
    return asked if is_ours else otherwise
