"""What rooms above want to do when a customer's record changes; see shop/orders/hooks.py for how this works.

after_renaming: called as `function(customer)` once what a customer is found by may have changed.
"""

after_renaming = []
