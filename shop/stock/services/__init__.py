"""What is done to the shelf. Each function is one transaction; only these write movements."""

from shop.stock.services.ordering import mark_sent, take_back_sent
from shop.stock.services.shelf import NotAllowed, Outcome, count, put_back, receive, send_back, send_on, use

__all__ = [
    "NotAllowed", "Outcome", "count", "mark_sent", "put_back", "receive", "send_back", "send_on", "take_back_sent",
    "use",
]  # fmt: skip
