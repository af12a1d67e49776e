"""That two records of instruments became one."""

from django.db import models

from shop.people.merge_models import MergeRecord


class InstrumentMerge(MergeRecord):
    kept = models.ForeignKey("instruments.Instrument", models.CASCADE, related_name="merges")
