"""The words of every mail to a customer, as they are until the shop writes its own, and what may stand in them.

Words hold `{names}` in braces, each replaced by what it stands for, once: what people typed is never read as words
again, and nothing in them is ever run. `{facts}`, on a line of its own, is the mail's table or amount.
"""

import re
from dataclasses import dataclass

from shop.lib import money
from shop.lib.templatetags.said import day

FACTS = "facts"
NAME = re.compile(r"\{([^{}\n]{0,40})\}")


def joined(words):
    """`one`, `one and two`, `one, two and three`."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _instruments(names):
    return joined(names) if len(names) < 3 else f"{len(names)} instruments"


EVERYWHERE = {
    "customer": lambda given: given["customer"].name,
    "instrument": lambda given: str(given["instrument"]),
    "order": lambda given: given["order"].number,
    "workshop": lambda given: given["workshop"].name,
    "phone": lambda given: given["workshop"].phone,
}
OF_VISITS = EVERYWHERE | {
    "instrument": lambda given: _instruments([str(one.instrument) for one in given["visit"]]),
    "order": lambda given: joined([one.number for one in given["visit"]]),
}
OF_INVOICES = {
    "invoice": lambda given: given["invoice"].number,
    "total": lambda given: money.shown(abs(given["invoice"].total), given["invoice"].currency),
    "open": lambda given: money.shown(given["account"].to_pay, given["invoice"].currency),
}
OF_CREDIT = OF_INVOICES | {
    "corrected": lambda given: given["invoice"].corrects.number,
    "reason": lambda given: given["invoice"].reason,
}
OF_REMINDERS = OF_INVOICES | {"due": lambda given: day(given["invoice"].due_on)}
OF_STATEMENTS = {
    "customer": EVERYWHERE["customer"], "workshop": EVERYWHERE["workshop"], "phone": EVERYWHERE["phone"],
    "open": lambda given: given["open"],
}  # fmt: skip
MEANINGS = {
    "customer": "the customer’s name", "instrument": "the instrument", "order": "the order’s number",
    "workshop": "the workshop’s name", "phone": "the workshop’s telephone", "invoice": "the paper’s number",
    "total": "its amount", "open": "what is still to pay", "corrected": "the number of the invoice taken back",
    "reason": "why it is taken back", "due": "the day it was due", FACTS: "the mail’s own table or amount",
}  # fmt: skip


@dataclass(frozen=True)
class Mail:
    """A mail that the shop can word. `days` only for reminders: how long after the one before, or the due day."""

    title: str
    when: str
    subject: str
    body: str
    values: dict
    facts: str
    days: int | None = None


def _letter(*paragraphs):
    return "\n\n".join(("Dear {customer},", *paragraphs, "Kind regards\n{workshop}"))


IF_PAID = "If you have paid in the meantime, please take this as settled."
MAILS = {
    "receipt": Mail(
        "Receipt", "at book-in, with the receipt", "We have your {instrument}: order {order}",
        _letter(
            "thank you for bringing in your {instrument}. Please name the number {order} when you call.", "{facts}",
            "We write to you as soon as it is ready. The attached receipt says the same as this mail; please tell us "
            "soon if something in it is wrong.",
        ),
        OF_VISITS, "receipt",
    ),
    "quote": Mail(
        "Quote", "when a quote is sent", "What the work on your {instrument} would cost: order {order}",
        _letter(
            "we have looked at your {instrument}, order {order}, and propose:", "{facts}",
            "We begin once you agree. You can also answer this mail, or call us.",
        ),
        EVERYWHERE, "quote",
    ),
    "ready": Mail(
        "Ready", "when the instrument is ready, with its papers", "Your {instrument} is ready: order {order}",
        _letter("your {instrument} is ready and waits for you.", "{facts}"), EVERYWHERE, "ready",
    ),
    "waits": Mail(
        "Waiting to be collected", "by itself, when a ready instrument is not collected",
        "Your {instrument} waits for you: order {order}",
        _letter(
            "your {instrument} has been ready for a while and waits for you to collect it.", "{facts}",
            "If you cannot come yet, please tell us when we may expect you.",
        ),
        EVERYWHERE, "waits",
    ),
    "invoice": Mail(
        "Invoice", "when an invoice is mailed by itself", "Invoice {invoice} for your {instrument}",
        _letter(
            "attached is invoice {invoice} over {total} for the work on your {instrument}, order {order}.", "{facts}",
        ),
        EVERYWHERE | OF_INVOICES, "invoice",
    ),
    "credit-note": Mail(
        "Credit note", "when an invoice is taken back", "Credit note {invoice}: invoice {corrected} is taken back",
        _letter(
            "attached is credit note {invoice}. It takes back the whole of invoice {corrected}: {reason}", "{facts}"
        ),
        EVERYWHERE | OF_CREDIT, "credit-note",
    ),
    "reminder": Mail(
        "First reminder", "when an invoice is overdue", "A reminder: invoice {invoice} is still open",
        _letter(
            "perhaps it slipped by: of invoice {invoice} for your {instrument}, {open} is still open. The invoice is "
            "attached once more.", "{facts}", IF_PAID,
        ),
        EVERYWHERE | OF_REMINDERS, "reminder", days=7,
    ),
    "second-reminder": Mail(
        "Second reminder", "when the first one brought nothing", "Second reminder: invoice {invoice} is overdue",
        _letter(
            "invoice {invoice} for your {instrument} was due on {due}, and we have reminded you once. It is attached "
            "again.", "{facts}", "Please pay it now, or tell us if something is wrong with it. " + IF_PAID,
        ),
        EVERYWHERE | OF_REMINDERS, "reminder", days=14,
    ),
    "last-reminder": Mail(
        "Last reminder", "when the second one brought nothing", "Last reminder: invoice {invoice}",
        _letter(
            "we have reminded you twice of invoice {invoice}, which was due on {due}. {open} is still open.", "{facts}",
            "This is our last reminder. Please pay, or call us today. " + IF_PAID,
        ),
        EVERYWHERE | OF_REMINDERS, "reminder", days=14,
    ),
}  # fmt: skip
MAILS["statement"] = Mail(
    "Statement", "when a customer is told all that is open", "What is still to pay at {workshop}",
    _letter("this is what is open today, {open} in all. The attached statement says the same.", "{facts}", IF_PAID),
    OF_STATEMENTS, "statement",
)  # fmt: skip
REMINDERS = ("reminder", "second-reminder", "last-reminder")


def problem_with(name, text, *, is_subject=False):
    """What is wrong with the words of a mail, a sentence; '' when they will do."""
    known = MAILS[name].values if is_subject else {**MAILS[name].values, FACTS: None}
    for found in NAME.findall(text):
        if found not in known:
            all_known = ", ".join(f"{{{one}}}" for one in known)
            return f"There is no {{{found}}} in this mail. It knows {all_known}."
    if set("{}") & set(NAME.sub("", text)):
        return "A brace stands alone. Names stand in a pair of them, such as {customer}."
    if not is_subject and [line.strip() for line in text.splitlines()].count(f"{{{FACTS}}}") != 1:
        return "{facts} has to stand once, on a line of its own: it is the table or the amount that the mail is about."
    if not is_subject and text.count(f"{{{FACTS}}}") != 1:
        return "{facts} stands once only."
    return ""


def filled(name, text, given):
    """`text` with its names replaced; `given` is the mail's context. One pass: a value is never looked into."""
    values = MAILS[name].values
    return NAME.sub(lambda found: values[found[1]](given) if found[1] in values else found[0], text)


def meanings(name):
    """[(name in braces, what it stands for)] of all that the mail's words may hold."""
    return [(f"{{{one}}}", MEANINGS[one]) for one in (*MAILS[name].values, FACTS)]
