"""What other rooms' pages show of the shelf."""

from django import template

from shop.stock import closing
from shop.stock.forms.shelf import WholeShelfForm

register = template.Library()


@register.inclusion_tag("stock/_whole_shelf.html", takes_context=True)
def whole_shelf(context, branch):
    """What lies in a branch, and a button that sends it to another one."""
    return {
        "branch": branch, "items": len(closing.lying_at(branch)), "form": WholeShelfForm(branch=branch),
        "csrf_token": context.get("csrf_token"),
    }  # fmt: skip
