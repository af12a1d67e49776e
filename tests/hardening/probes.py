"""Markup, quotes and template braces in every field that a person can type, and how to tell whether they were heeded.

The models are walked, so that a new field is probed from its first day. What nobody types is named below.
"""

import json
import re
from functools import cache

import html5lib
from django.apps import apps
from django.db import connection, models

# Codes, keys, digests and what the program writes by itself: in the form they need, or the page is another one.
NOT_TYPED = {
    "staff.Branch.mark", "staff.Person.password", "staff.Person.pin", "staff.Workshop.country",
    "staff.Workshop.currency", "staff.Workshop.time_zone", "staff.Workshop.set_up_step", "staff.Series.key",
    "people.Customer.country", "instruments.SpecValue.key", "orders.CalendarFeed.key", "orders.CustomerLink.key",
    "orders.WorkOrder.number", "orders.Photo.step", "orders.Hold.key", "orders.Event.what",
    "worksheets.TargetRange.key", "worksheets.Reading.step", "worksheets.Reading.key", "worksheets.Reading.unit",
    "worksheets.StepMark.step", "worksheets.StepNote.step", "worksheets.Acceptance.finding",
    "worksheets.WorkSpan.step", "worksheets.TimeByHand.step", "billing.Invoice.number", "billing.Invoice.currency",
    "billing.InvoiceLine.kind", "billing.Balance.state", "stock.Movement.order_number", "handover.Paper.name",
    "handover.Paper.sha256", "handover.Paper.about", "handover.OutgoingMail.name", "handover.OutgoingMail.text",
    "handover.OutgoingMail.html", "handover.OutgoingMail.makes", "handover.OutgoingMail.message_id",
    "handover.MailWording.name", "staff.SignedIn.session_key", "staff.SignedIn.session_data",
    "staff.SignedIn.address", "staff.SignedIn.device", "figures.KeptSum.question", "figures.KeptSum.zone",
    "figures.KeptSum.rows", "figures.Touched.question", "figures.Touched.thing", "staff.KeptView.page",
}  # fmt: skip
# The longest that fits is taken. Each would make an element or an attribute of its own, or be reckoned out.
FORMS = (
    "javascript:xq()//{name}'\"><xq onxq=1></style></script></title></textarea><xq>{{{{7|add:7}}}}{{0}}<!--",
    "{name}'\"><xq>{{{{7|add:7}}}}",
    "{name}\"><xq>'",
    "<xq>'\"",
    "<xq>",
    "<",
)
ADDRESS = '"<xq/onxq=1>{name}"@example.com'  # as RFC 5322 lets an address be written
AROUND = {"handover.MailWording.body": "\n\n{facts}\n\n{customer}"}  # without its place for facts it is no letter
PROSE = re.compile(r"[^\W\d_]{2,}\s+\S")


def typed_fields():
    """{label: field} of every text that people write, by the models."""
    return {
        f"{model._meta.label}.{field.name}": field
        for model in apps.get_models() if model.__module__.startswith("shop.")
        for field in model._meta.concrete_fields
        if isinstance(field, models.CharField | models.TextField) and field.editable and not field.choices
        and not isinstance(field, models.FileField) and not field.primary_key
        and f"{model._meta.label}.{field.name}" not in NOT_TYPED
    }  # fmt: skip


def probe(field, mark, *, row=""):
    """What stands in this field: the longest probe that fits, with a `mark` that tells where it came from."""
    longest = field.max_length or 1000
    forms = [ADDRESS] if isinstance(field, models.EmailField) else FORMS
    name = f"{mark}{row}"
    return next(text for form in forms if len(text := form.format(name=name)) <= longest)


def fill_every_field():
    """Put a probe into every typed field of every row; {mark: label of the field}."""
    marks, were = {}, {}
    for number, (label, field) in enumerate(sorted(typed_fields().items())):
        mark, rows = f"p{number}q", field.model._base_manager
        marks[mark] = label
        for pk, was in list(rows.values_list("pk", field.attname)):
            text = probe(field, mark, row=f"r{pk}" if field.unique else "") + AROUND.get(label, "")
            rows.filter(pk=pk).update(**{field.attname: text})
            were[was] = text
    _fill_kept_copies(were)
    return marks


def _fill_kept_copies(were):
    """What was typed and is kept once more within JSON: the same text, or any prose."""
    every = FORMS[0].format(name="json")
    for model in apps.get_models():
        for field in model._meta.concrete_fields:
            if model.__module__.startswith("shop.") and isinstance(field, models.JSONField):
                for pk, held in list(model._base_manager.values_list("pk", field.attname)):
                    filled = _replaced(held, were, every)
                    model._base_manager.filter(pk=pk).update(**{field.attname: filled})


def _replaced(held, were, every):
    if isinstance(held, dict):
        return {key: _replaced(one, were, every) for key, one in held.items()}
    if isinstance(held, list):
        return [_replaced(one, were, every) for one in held]
    if isinstance(held, str) and PROSE.search(held):
        return were.get(held, every)
    return held


def let_frozen_rows_change():
    """In this transaction, the rows that the database itself keeps as they are."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'frozen_%'")
            for (name,) in cursor.fetchall():
                cursor.execute(f'DROP TRIGGER "{name}"')
        else:
            cursor.execute("SET LOCAL session_replication_role = 'replica'")


def heeded(text):
    """Which probes in HTML, SVG or XML were taken for more than text: a list of what they became."""
    return list(_found_in(text)) if "xq" in text or "14" in text else []


def _found_in(text):
    if "{{7|add:7}}" not in text and re.search(r"xq[^\n]{0,20}>14", text):
        yield "reckoned out"
    for element in _parsed(text).iter():
        name = str(element.tag).lower()
        if name.endswith("xq"):
            yield f"an element <{name}> in <{_parent(element)}>"
        for attribute, value in element.attrib.items():
            if "xq" in str(attribute).lower():
                yield f"an attribute {attribute} of <{name}>"
            if str(attribute).lower() in LEADS and str(value).strip().lower().startswith("javascript:"):
                yield f"an address {value[:30]} in {attribute} of <{name}>"


LEADS = {"href", "src", "action", "formaction", "srcset", "data", "poster", "{http://www.w3.org/1999/xlink}href"}


@cache
def _parser():
    return html5lib.HTMLParser(namespaceHTMLElements=False)


def _parsed(text):
    return _parser().parse(text)


def _parent(element):
    return element.get("class") or ""


def pieces_of(content):
    """The parts of a page that an answer to a script carries: it puts them in as markup, and all else as text."""
    return json.loads(content).get("pieces", {}).values()


def marks_in(text):
    return set(re.findall(r"p\d+q", text))
