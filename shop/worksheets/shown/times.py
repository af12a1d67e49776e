"""Time as it is said: of a step, of a sheet, and of a whole order against what was estimated."""

from dataclasses import dataclass

from shop.orders.models import Agreement
from shop.worksheets import time_spent


@dataclass(frozen=True)
class TimeShown:
    step: str
    sheet: str
    minutes: int  # of the step, to begin an edit with

    @classmethod
    def of(cls, worksheet, step):
        """Two queries."""
        found = time_spent.of_sheet(worksheet)
        own = found.get(step.key, 0.0)
        return cls(time_spent.said(own), time_spent.said(sum(found.values())), int(own / 60 + 0.5))


def rows(worksheet):
    """[(step's title, its time)] of the steps that took any, and the whole; ([], '') for none."""
    found = time_spent.of_sheet(worksheet)
    steps = worksheet.family_plan.steps if worksheet.family_plan else ()
    told = [(step.title, time_spent.said(found[step.key])) for step in steps if found.get(step.key)]
    return told, time_spent.said(sum(found.values()))


@dataclass(frozen=True)
class OrderTime:
    """What was estimated for the lines that were not declined, and what was spent; '' for nothing."""

    estimated: str
    spent: str
    is_over: bool

    @classmethod
    def of(cls, order, sheets):
        """Two queries for the worksheet that is at work, and the order's lines; a signed one says its time itself."""
        lines = [one for one in order.lines.all() if one.agreement != Agreement.DECLINED]
        estimated = 60.0 * sum(one.minutes for one in lines)
        spent = sum(one.spent_seconds if one.is_signed else time_spent.whole_of(one) for one in sheets)
        return cls(time_spent.said(estimated), time_spent.said(spent), 0 < estimated < spent)
