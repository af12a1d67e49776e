"""Fields of a form by name, for templates that lay a form out themselves."""

from django import template

register = template.Library()


@register.filter
def field(form, name):
    """`{{ form|field:key }}`: the bound field."""
    return form[name]


@register.filter
def hidden_copy(bound):
    """The hidden input that remembers what the field showed when the page was opened."""
    return bound.as_hidden(only_initial=True) if bound.field.show_hidden_initial else ""
