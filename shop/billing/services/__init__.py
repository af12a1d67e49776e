"""What is done with money. Each function is one transaction and leaves a line in the order's history."""

from shop.billing.services.common import MoneyRefused
from shop.billing.services.crediting import credit
from shop.billing.services.drafting import set_discount, set_treatment
from shop.billing.services.issuing import issue
from shop.billing.services.paying import give_back, receive, undo_payment

__all__ = ["MoneyRefused", "credit", "give_back", "issue", "receive", "set_discount", "set_treatment", "undo_payment"]
