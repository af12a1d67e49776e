"""Quotes as they were sent, and what customers answer to them on their own page."""

from django.db import transaction
from django.utils import timezone

from shop.lib import money
from shop.lib.dates import today
from shop.orders import hooks
from shop.orders.models import Agreement, Quote
from shop.orders.services.common import NotAllowed, locked, need_open_lines, note
from shop.orders.services.lines import answer_lines
from shop.orders.services.wording import priced, words_of

ON_THEIR_PAGE = "on the customer’s page"
QUOTE_EXPIRED = "This quote is not valid any more. Please ask us for a new one."


@transaction.atomic
def record_quote(order, lines, sums, *, valid_until, by):
    """Keep `lines` (Line) as the order's next quote; `sums` as Quote says. Raises NotAllowed without lines."""
    held = locked(order)
    if not lines:
        raise NotAllowed("Nothing is proposed that could be quoted.")
    if valid_until < today():
        raise NotAllowed("A quote is valid until today or later.")
    last = held.quotes.first()
    quote = Quote.objects.create(
        order=held, version=last.version + 1 if last else 1, made_at=timezone.now(), made_by=by,
        valid_until=valid_until, lines=[_kept(line, sums) for line in lines], sums=sums,
    )  # fmt: skip
    text = f"Quote {quote.version}, valid until {valid_until:%a} {valid_until.day} {valid_until:%b %Y}."
    note(held, by=by, what="quoted", text=text, quote=quote.pk)
    return quote


def _kept(line, sums):
    price, tax_rate = priced(line, sums)
    amount = money.rounded(price * line.quantity, sums["currency"])
    return {
        "line": line.pk, "text": line.text, "quantity": str(line.quantity), "price": str(price),
        "amount": str(amount), "tax_rate": str(tax_rate), "words": words_of(line, sums),
    }  # fmt: skip


def quote_in_force(order):
    """The last quote with its lines as they stand: (quote, [(kept line, its Line or None, may be answered)])."""
    quote = order.quotes.first()
    if quote is None:
        return None, []
    now = {line.pk: line for line in order.lines.all()}
    valid = quote.valid_until >= today() and not order.lines_fixed_by
    sums, rows = quote.sums | {"untaxed": hooks.untaxed(order)}, []
    for kept in quote.lines:
        line = now.get(kept["line"])
        same = line is not None and words_of(line, sums) == kept["words"]
        rows.append((kept, line if same else None, valid and same and line.agreement == Agreement.PROPOSED))
    return quote, rows


@transaction.atomic
def answer_quote(order, version, answers, *, name):
    """The customer's own answers, {line's pk: 'agreed' or 'declined'}, signed with `name`. Returns what was answered.

    Raises NotAllowed when the quote is not the last one, has expired, or a line is not what they read any more.
    """
    held = locked(order)
    need_open_lines(held)
    quote, rows = quote_in_force(held)
    if quote is None or quote.version != version:
        raise NotAllowed("There is a newer quote. Please read it, then answer again.")
    if quote.valid_until < today():
        raise NotAllowed(QUOTE_EXPIRED)
    open_lines = {line.pk: line for _, line, is_open in rows if is_open}
    if not answers or not set(answers) <= set(open_lines):
        raise NotAllowed("A line was changed or answered meanwhile. Please read it again.")
    for word in (Agreement.AGREED, Agreement.DECLINED):
        chosen = [open_lines[pk] for pk, answer in answers.items() if answer == word]
        if chosen:
            answer_lines(held, chosen, word, how=ON_THEIR_PAGE, by=None, name=name, quote=quote)
    order.refresh_from_db()
    return quote
