"""What is done to a worksheet. Each function is one transaction; each decision writes the order's history."""

from shop.worksheets.services.accepting import accept_finding, withdraw_acceptance
from shop.worksheets.services.errors import NotYet, SheetClosed, UnknownPlace
from shop.worksheets.services.offering import offer_work
from shop.worksheets.services.photos import add_step_photos, remove_step_photo
from shop.worksheets.services.readings import Saved, choose_reading, save_reading, undo_reading
from shop.worksheets.services.signing import reopen, sign_off
from shop.worksheets.services.starting import set_stringing, start_worksheet
from shop.worksheets.services.steps import add_step_note, mark_done, skip_step, take_back_mark
from shop.worksheets.services.time import record_span, set_time

__all__ = [
    "NotYet",
    "Saved",
    "SheetClosed",
    "UnknownPlace",
    "accept_finding",
    "add_step_note",
    "add_step_photos",
    "choose_reading",
    "mark_done",
    "offer_work",
    "record_span",
    "remove_step_photo",
    "reopen",
    "save_reading",
    "set_stringing",
    "set_time",
    "sign_off",
    "skip_step",
    "start_worksheet",
    "take_back_mark",
    "undo_reading",
    "withdraw_acceptance",
]  # fmt: skip
