"""What this room does when something happens in the rooms below. Imported once, when the app starts."""

from shop.handover.queue import mail_health
from shop.handover.services import mail_receipt_on_book_in
from shop.orders import hooks
from shop.staff import health

hooks.after_book_in.append(mail_receipt_on_book_in)
health.CHECKS.append(mail_health)
