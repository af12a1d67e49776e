"""What this room does when something happens in the rooms below. Imported once, when the app starts."""

from shop.handover.services import mail_receipt_on_book_in
from shop.orders import hooks

hooks.after_book_in.append(mail_receipt_on_book_in)
