"""What is done to a work order. Each function is one transaction and writes the event that says who did what."""

from shop.orders.models import WorkOrder
from shop.orders.services.booking import Booking, book_in, book_in_together, booked_already
from shop.orders.services.branches import move_to_branch, taken_in_at
from shop.orders.services.common import NotAllowed, fix_lines, hold, lift, locked, need_open_lines, note
from shop.orders.services.details import (
    add_mark,
    add_note,
    change_details,
    photograph_mark,
    promise,
    put_on_rack,
    remove_mark,
)  # fmt: skip
from shop.orders.services.lines import NewLine, add_lines, answer_lines, ask_again, change_line, remove_line
from shop.orders.services.links import (
    current_link,
    link_for_mail,
    link_of,
    opened,
    renew_link,
    token_of,
    withdraw_link,
)  # fmt: skip
from shop.orders.services.moving import is_offered, move, noon_of, offered_moves, why_not
from shop.orders.services.parts import put_back, take, use_part
from shop.orders.services.photos import add_photo, keep_draft_photo, remove_photo, sweep_drafts
from shop.orders.services.quoting import QUOTE_EXPIRED, answer_quote, quote_in_force, record_quote
from shop.orders.services.wording import sums_of

__all__ = [
    "QUOTE_EXPIRED",
    "Booking",
    "NewLine",
    "NotAllowed",
    "WorkOrder",
    "add_lines",
    "add_mark",
    "add_note",
    "add_photo",
    "answer_lines",
    "answer_quote",
    "ask_again",
    "book_in",
    "book_in_together",
    "booked_already",
    "change_details",
    "change_line",
    "current_link",
    "fix_lines",
    "hold",
    "is_offered",
    "keep_draft_photo",
    "lift",
    "link_for_mail",
    "link_of",
    "locked",
    "move",
    "move_to_branch",
    "need_open_lines",
    "noon_of",
    "note",
    "offered_moves",
    "opened",
    "photograph_mark",
    "promise",
    "put_back",
    "put_on_rack",
    "quote_in_force",
    "record_quote",
    "remove_line",
    "remove_mark",
    "remove_photo",
    "renew_link",
    "sums_of",
    "sweep_drafts",
    "take",
    "taken_in_at",
    "token_of",
    "use_part",
    "why_not",
    "withdraw_link",
]  # fmt: skip
