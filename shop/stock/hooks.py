"""What rooms above have promised of the shelf.

Imports run one way, so the shelf cannot ask the orders what they need. A room above appends its function here when it
starts (its AppConfig.ready); plain lists, called in order.

reserved_for: called as `function(item_keys, branch)` with a list of keys; gives {item key: Decimal}, what is promised
and has not left the shelf. `branch` is None in a workshop that has only one, here and below.
waiting_orders: called as `function(item, branch)`; gives [(order number, Decimal)] of the orders that wait for it.
"""

reserved_for = []
waiting_orders = []
