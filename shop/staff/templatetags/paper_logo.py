"""The workshop's logo, for papers: they fetch nothing, so it goes in whole."""

import base64

from django import template
from django.core.files.storage import default_storage
from django.utils.html import format_html

from shop.staff.models import Workshop

register = template.Library()


@register.simple_tag
def paper_logo():
    """The logo as an image of the paper itself; nothing where there is none, or where its file is gone."""
    name = Workshop.here().logo.name
    if not name or not default_storage.exists(name):
        return ""
    with default_storage.open(name) as file:
        held = base64.b64encode(file.read()).decode()
    return format_html('<img class="logo" alt="" src="data:image/jpeg;base64,{}">', held)
