"""Somebody's own views of lists, on those lists and on the office's page."""

from django import template

from shop.staff import keeping

register = template.Library()


@register.inclusion_tag("staff/_kept_views.html", takes_context=True)
def kept_views(context, page):
    """The views of one list, and a way to keep it as it is asked for now."""
    request = context["request"]
    query, views = keeping.asked(request.GET.urlencode()), keeping.views_of(request.user, page)
    here = next((view for view in views if view.query == query), None)
    return {"page": page, "query": query, "views": views, "here": here, "csrf_token": context["csrf_token"]}


@register.inclusion_tag("staff/_kept_everywhere.html", takes_context=True)
def kept_views_everywhere(context):
    return {"views": keeping.views_of(context["request"].user)}
