"""Keeping the way somebody looks at a list."""

from django.db import IntegrityError, transaction
from django.http import QueryDict

from shop.staff.models import Person
from shop.staff.view_models import LISTS, LONGEST_QUERY, KeptView

MOST = 30  # of one person
NOT_KEPT = ("page", "csrfmiddlewaretoken")  # where somebody was in the list is no part of how they look at it


class NotAllowed(Exception):
    """The message is a sentence for people."""


def asked(query):
    """What of an address's query is kept: its filters and its order."""
    read = QueryDict(query[:4_000], mutable=True)
    for name in [*NOT_KEPT, *(name for name, value in read.items() if not value)]:
        read.pop(name, None)
    return read.urlencode()


@transaction.atomic
def keep(person, *, page, query, name):
    """Keep a list under `name`; the same name again keeps what is asked for now. Raises NotAllowed."""
    query = asked(query)
    if page not in LISTS or len(query) > LONGEST_QUERY:
        raise NotAllowed("This page cannot be kept.")
    Person.objects.select_for_update().get(pk=person.pk)
    others = person.kept_views.exclude(page=page, name=name)
    if others.count() >= MOST:
        raise NotAllowed(f"You have kept {MOST} views already. Remove one first.")
    return KeptView.objects.update_or_create(person=person, page=page, name=name, defaults={"query": query})[0]


def rename(view, name):
    """Raises NotAllowed where that list has a view of this name already."""
    view.name = name
    try:
        with transaction.atomic():
            view.save(update_fields=["name"])
    except IntegrityError:
        raise NotAllowed("Another view of this list has that name.") from None


def views_of(person, page=None):
    """The views of this person that they may still open, of one list or of all."""
    found = person.kept_views.filter(page=page) if page else person.kept_views.all()
    return [view for view in found if view.page in LISTS and person.may(LISTS[view.page][1])]
