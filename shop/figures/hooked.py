"""What this room does when something happens in the rooms below. Imported once, when the app starts."""

from shop.figures.ahead import KeepUp
from shop.handover import hooks

hooks.beside_the_mail.append(KeepUp())
