"""What this room tells the rooms below. Imported once, when the app starts."""

from shop.staff import hooks as staff_hooks
from shop.stock import closing

staff_hooks.keeps_open.append(closing.keeps_open)
