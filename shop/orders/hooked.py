"""What this room tells the rooms below. Imported once, when the app starts."""

from shop.orders.services import branches, parts
from shop.staff import hooks as staff_hooks
from shop.stock import hooks

hooks.reserved_for.append(parts.reserved_for)
hooks.waiting_orders.append(parts.waiting_orders)
staff_hooks.keeps_open.append(branches.keeps_open)
