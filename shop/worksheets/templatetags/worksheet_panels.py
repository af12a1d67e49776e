"""What other rooms' pages show of worksheets: an order's worksheets, and how an instrument was left."""

from django import template

from shop.worksheets import queries
from shop.worksheets.evaluation import evaluate
from shop.worksheets.services.common import WORKABLE
from shop.worksheets.shown.left import charts, newest_left_rows
from shop.worksheets.shown.likes import panel_of_customer, panel_of_instrument
from shop.worksheets.shown.rail import current_step, rail
from shop.worksheets.shown.times import OrderTime
from shop.worksheets.shown.typed import as_typed
from shop.worksheets.shown.verdicts import shown

register = template.Library()


@register.inclusion_tag("worksheets/_order_panel.html", takes_context=True)
def worksheets_panel(context, order):
    """The order's worksheets with their progress and open findings, and the way to start one."""
    unit = context["workshop"].length_unit
    sheets = [_shown(sheet, unit) for sheet in order.worksheets.select_related("started_by", "signed_by")]
    return {
        "order": order, "sheets": sheets, "may": context["may"],
        "time": OrderTime.of(order, [one["sheet"] for one in sheets]),
        "can_start": order.state in WORKABLE and not any(not one["sheet"].is_signed for one in sheets),
    }  # fmt: skip


def _shown(sheet, unit):
    """A signed sheet is done: only of one at work it is asked how far it is, and what is open."""
    if sheet.is_signed:
        return {"sheet": sheet}
    found = evaluate(sheet, unit=unit)
    steps = rail(found)
    return {
        "sheet": sheet, "steps": steps, "done": sum(1 for one in steps if one.state in ("done", "skipped")),
        "stale": sum(1 for one in steps if one.state == "stale"), "here": current_step(found),
        "open": [one for one in found.open_findings if one.verdict != "missing"],
        "missing": sum(1 for one in found.open_findings if one.verdict == "missing"),
    }  # fmt: skip


@register.inclusion_tag("worksheets/_left_panel.html", takes_context=True)
def as_left_panel(context, instrument):
    """How it was left: the last as-left values, and the main readings over the years."""
    unit = context["workshop"].length_unit
    history = queries.as_left_history(instrument)
    return {"left": newest_left_rows(instrument, history, unit=unit), "charts": charts(instrument, history, unit=unit)}


@register.inclusion_tag("worksheets/_likes_panel.html", takes_context=True)
def likes_of_instrument(context, instrument):
    """How its player likes it: in words, and as ranges that a worksheet takes over."""
    words, parts = panel_of_instrument(instrument, unit=context["workshop"].length_unit)
    return {"words": words, "parts": parts, "may": context["may"]}


@register.inclusion_tag("worksheets/_likes_panel.html", takes_context=True)
def likes_of_customer(context, customer):
    words, parts = panel_of_customer(customer, unit=context["workshop"].length_unit)
    return {"words": words, "parts": parts, "may": context["may"]}


@register.filter
def verdict(finding):
    """A finding's verdict as a word and a mark."""
    return shown(finding)


@register.filter
def typed_as(reading, unit):
    """A reading as it was typed, with its unit where the page's is another one."""
    return as_typed(reading, unit)


@register.filter
def typed_in(kept, name):
    """What was typed into the form `name` that was not taken: {{ page.typed|typed_in:'skip' }}."""
    return kept.get(name, {})
