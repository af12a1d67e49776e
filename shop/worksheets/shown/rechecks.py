"""How far a re-check is, and which verdicts it turns."""

from dataclasses import dataclass

from shop.worksheets.models import Recheck, Worksheet
from shop.worksheets.shown.verdicts import VERDICTS

MOST_ROWS = 200


@dataclass(frozen=True)
class ChangeShown:
    change: dict
    before: object
    after: object


@dataclass(frozen=True)
class RecheckPage:
    open_count: int
    last: Recheck | None
    sheets: tuple  # (order number, worksheet id, its changes)
    more: int

    @classmethod
    def now(cls):
        last = Recheck.objects.select_related("by").first()
        changes = last.changes if last else []
        sheets = {}
        for one in changes[:MOST_ROWS]:
            shown = ChangeShown(one, VERDICTS.get(one["before"]), VERDICTS.get(one["after"]))
            sheets.setdefault((one["order"], one["sheet"]), []).append(shown)
        grouped = tuple((order, pk, tuple(rows)) for (order, pk), rows in sheets.items())
        return cls(Worksheet.objects.filter(signed_at=None).count(), last, grouped, max(len(changes) - MOST_ROWS, 0))

    @property
    def is_running(self):
        return self.last is not None and self.last.state == Recheck.State.RUNNING

    @property
    def is_stopped(self):
        return self.last is not None and self.last.state == Recheck.State.STOPPED

    @property
    def can_take(self):
        return self.last is not None and self.last.state == Recheck.State.FINISHED and bool(self.last.sheets)
