"""What this room does when something happens in the rooms below. Imported once, when the app starts."""

from django.urls import reverse

from shop.orders import hooks
from shop.worksheets import queries


def open_worksheet(order, person):
    """A tag scanned by somebody who works at the bench opens the order's open worksheet."""
    sheet = queries.open_sheet_of(order) if person.may("work worksheets") else None
    return reverse("worksheet", args=[sheet.pk]) if sheet else None


hooks.when_scanned.append(open_worksheet)
