"""That two records became one: what was said in the one that went, and everything that was moved."""

from django.conf import settings
from django.db import models

PERSON = settings.AUTH_USER_MODEL


class MergeRecord(models.Model):
    """Enough to take the two apart again. A room's own kind adds `kept`, the record that stayed."""

    gone = models.PositiveBigIntegerField(db_index=True)  # the key of the record that went; its address leads on
    details = models.JSONField(default=dict)  # that record, whole; empty once the person was erased
    before = models.JSONField(default=dict)  # of the one that stayed, what merging changed
    after = models.JSONField(default=dict)
    moved = models.JSONField(default=dict)  # room.model.field → keys of the rows
    folded = models.JSONField(default=list)  # rows that were taken out, since the other has its own
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")
    undone_at = models.DateTimeField(null=True)
    undone_by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")

    class Meta:
        abstract = True
        ordering = ["-pk"]

    def __str__(self):
        return f"no. {self.gone} into no. {self.kept_id}"

    @classmethod
    def kept_instead_of(cls, key):
        """The record into which the one with this key was merged, or None."""
        found = cls.objects.filter(gone=key, undone_at=None).select_related("kept").first()
        return found.kept if found else None

    @classmethod
    def held(cls, key):
        """The record with this key, locked; the one into which it was merged, where that has just happened. None where
        it was deleted. Inside a transaction, which no merge can then overtake.
        """
        rows = cls._meta.get_field("kept").related_model.objects.select_for_update()
        row = rows.filter(pk=key).first()
        while row is None and (kept := cls.kept_instead_of(key)):
            key = kept.pk
            row = rows.filter(pk=key).first()
        return row

    @classmethod
    def forget(cls, **which):
        """Nothing is kept of what those records said; their addresses still lead on."""
        cls.objects.filter(**which).update(details={}, before={}, after={}, moved={}, folded=[])


class CustomerMerge(MergeRecord):
    kept = models.ForeignKey("people.Customer", models.CASCADE, related_name="merges")
