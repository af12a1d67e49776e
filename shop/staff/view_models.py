"""A list as one person likes to look at it, under a name of their own."""

from django.conf import settings
from django.db import models
from django.urls import reverse

# The lists that can be kept: the name of the page, what people call it, and the right that it needs.
LISTS = {
    "orders": ("Orders", "see orders"), "customers": ("Customers", "see customers"),
    "instruments": ("Instruments", "see customers"), "invoices": ("Invoices", "see money"),
    "mail": ("Mail", "see mail"), "shelf": ("Stock", "see prices"), "prices": ("Prices", "see prices"),
    "audit": ("Record", "edit staff"), "staff": ("Staff", "edit staff"), "branches": ("Branches", "edit workshop"),
    "suppliers": ("Suppliers", "see prices"), "reorder": ("What to reorder", "see prices"),
    "mail-silenced": ("Silenced addresses", "see mail"), "reminders": ("Reminders", "bill"),
    "bench": ("Bench", "see orders"), "profiles": ("Target profiles", "edit profiles"),
    "bench-hours": ("Closed days", "edit workshop"), "health": ("Health", "edit workshop"),
    "you": ("Where you are signed in", "see orders"),
    "mail-words": ("The words of mails", "edit workshop"), "figures": ("Figures", "see figures"),
}  # fmt: skip
LONGEST_QUERY = 500


class KeptView(models.Model):
    """`query` is what stands behind the list's address; where it leads is never taken from what somebody sent."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="kept_views")
    page = models.CharField(max_length=20)  # one of LISTS
    query = models.CharField(max_length=LONGEST_QUERY, blank=True)
    name = models.CharField(max_length=40)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [models.UniqueConstraint(fields=["person", "page", "name"], name="one_view_a_name")]

    def __str__(self):
        return self.name

    @property
    def title(self):
        """What people call the list."""
        return LISTS[self.page][0]

    @property
    def address(self):
        return reverse(self.page) + (f"?{self.query}" if self.query else "")
