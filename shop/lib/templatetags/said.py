"""How times and numbers are said on pages and papers. Built in: no template needs to load it."""

from django import template
from django.utils import timezone

from shop.lib.dates import spoken_minutes

register = template.Library()

MONTHS = ("", "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@register.filter
def day(value):
    """A date as `Tue 3 Mar 2026`: no order of figures that two countries read differently."""
    if not value:
        return ""
    at = timezone.localtime(value).date() if hasattr(value, "hour") else value
    return f"{at:%a} {at.day} {MONTHS[at.month]} {at.year}"


@register.filter
def moment(value):
    """A time as `3 Mar 2026, 14:05` in the workshop's zone."""
    if not value:
        return ""
    at = timezone.localtime(value)
    return f"{at.day} {MONTHS[at.month]} {at.year}, {at:%H:%M}"


@register.filter
def spoken(minutes):
    """Minutes as `1 h 20 min`."""
    return spoken_minutes(minutes or 0)


@register.filter
def at(data, key):
    """What was typed into `line-<key>` of a form that was sent, or ''."""
    return data.get(f"line-{key}", "") if data else ""


@register.filter
def has(collection, member):
    """Whether `member` is in `collection`; for `{% if may|has:'book in' %}`."""
    return member in collection
