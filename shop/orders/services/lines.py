"""Lines of work and parts, and the customer's answer to each."""

from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from shop.orders.models import Agreement, Answer, Line
from shop.orders.services.common import NotAllowed, locked, need_open_lines, note
from shop.orders.services.moving import move
from shop.orders.services.parts import put_back_all
from shop.orders.services.wording import sums_of, words_of
from shop.orders.services.writing import hold_while_undecided, write_line
from shop.orders.states import NOT_STARTED, State
from shop.staff.models import Workshop
from shop.stock.models import ItemKind

ANSWERED = {Agreement.AGREED: "line_agreed", Agreement.DECLINED: "line_declined"}


@dataclass(frozen=True)
class NewLine:
    """A line to be written, from the price list or freely."""

    text: str
    price: Decimal
    tax_rate: Decimal
    quantity: Decimal = Decimal(1)
    kind: str = ItemKind.WORK
    minutes: int = 0
    item_id: int | None = None

    @classmethod
    def of(cls, item, quantity=Decimal(1)):
        """A line of the price list's `item`; its minutes are those of the whole quantity."""
        minutes = int(item.usual_minutes * quantity)
        return cls(item.name, item.price, item.tax_rate, quantity, item.kind, minutes, item.pk)


@transaction.atomic
def add_lines(order, new_lines, *, by):
    """Write `new_lines` (NewLine) on the order; each is proposed until the customer answers. Returns the Lines."""
    held = locked(order)
    need_open_lines(held)
    made = [write_line(held, one, by=by) for one in new_lines]
    hold_while_undecided(held)
    return made


@transaction.atomic
def change_line(line, changes, *, by):
    """Write `changes` (field → value) on the line. What was agreed or declined before is asked again."""
    held = locked(line.order)
    need_open_lines(held)
    line = Line.objects.select_for_update().get(pk=line.pk)
    before = {name: getattr(line, name) for name in changes}
    changes = {name: value for name, value in changes.items() if before[name] != value}
    if not changes:
        return line
    for name, value in changes.items():
        setattr(line, name, value)
    asked_again = line.agreement != Agreement.PROPOSED and not set(changes) <= {"minutes", "kind"}
    if asked_again:
        _unanswer(line)
    line.save(update_fields=[*changes, "agreement", "agreed_at", "agreed_how"])
    text = f"Changed: {line.text}." + (" The customer has to agree again." if asked_again else "")
    was = {name: str(before[name]) for name in changes}
    note(held, by=by, what="line_changed", text=text, line=line.pk, was=was)
    hold_while_undecided(held)
    return line


@transaction.atomic
def remove_line(line, *, by):
    """Take the line off the order; its history keeps what it said."""
    held = locked(line.order)
    need_open_lines(held)
    was = {"text": line.text, "quantity": str(line.quantity), "price": str(line.price), "agreement": line.agreement}
    note(held, by=by, what="line_removed", text=f"Taken off: {line.text} ({line.agreement}).", was=was)
    put_back_all(held, line, by=by)
    line.delete()
    hold_while_undecided(held)


@transaction.atomic
def answer_lines(order, lines, answer, *, how, by, name="", quote=None):
    """Record the customer's answer to `lines`: Agreement.AGREED or DECLINED, how it was given, and who gave it.

    Each answer is kept with the exact text that was agreed or declined, and the quote it stood in, if any.
    An order whose work has not begun becomes agreed with the last answer, if anything was agreed.
    Returns the lines that changed.
    """
    held = locked(order)
    need_open_lines(held)
    wanted = held.lines.select_for_update().filter(pk__in=[line.pk for line in lines])
    changed = [line for line in wanted if line.agreement != answer]
    for line in changed:
        line.agreement, line.agreed_at, line.agreed_how = answer, timezone.now(), how[:80]
        line.save(update_fields=["agreement", "agreed_at", "agreed_how"])
    if changed:
        _keep_answers(held, changed, answer, how=how[:80], by=by, name=name, quote=quote)
        names = "; ".join(line.text for line in changed)
        signed = f", {name}" if name else ""
        text = f"{Agreement(answer).label.capitalize()} {how}{signed}: {names}."
        note(held, by=by, what=ANSWERED[answer], text=text, lines=[line.pk for line in changed])
        hold_while_undecided(held)
        _agree_when_all_answered(held, by=by)
    order.refresh_from_db()
    return changed


@transaction.atomic
def ask_again(line, *, by):
    """Take back an answer: the line is proposed again."""
    held = locked(line.order)
    need_open_lines(held)
    if line.agreement == Agreement.PROPOSED:
        raise NotAllowed("This line waits for its answer already.")
    was = line.get_agreement_display()
    _unanswer(line)
    line.save(update_fields=["agreement", "agreed_at", "agreed_how"])
    note(held, by=by, what="line_asked", text=f"Asked again: {line.text} (was {was}).", line=line.pk)
    hold_while_undecided(held)
    return line


def _keep_answers(order, lines, answer, **said):
    sums = sums_of(order, Workshop.here())
    Answer.objects.bulk_create(
        Answer(order=order, line=line, answer=answer, text=words_of(line, sums)[:500], at=line.agreed_at, **said)
        for line in lines
    )


def _unanswer(line):
    line.agreement, line.agreed_at, line.agreed_how = Agreement.PROPOSED, None, ""


def _agree_when_all_answered(order, *, by):
    answers = set(order.lines.values_list("agreement", flat=True))
    if order.state in NOT_STARTED and Agreement.PROPOSED not in answers and Agreement.AGREED in answers:
        move(order, State.AGREED, by=by)
