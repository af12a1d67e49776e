"""What rooms above want to do when something happens here.

Imports run one way, so an order cannot call the hand-over, though a book-in has to queue the customer's receipt in
the same transaction. A room above appends its function here when it starts (its AppConfig.ready); the services of
this room call what they find. This is the whole mechanism: plain lists, called in order, nothing caught. An error
in one of them rolls the book-in back.

after_book_in: called as `function(orders, by=person)` inside the transaction that books a visit in.
when_scanned: called as `function(order, person)` when a tag is scanned; the first address returned is where the
person goes, None passes it on, and without any answer the order's own page opens.
untaxed_because: called as `function(order)`; says in two words why no tax is billed, '' when it is billed as usual.
"""

after_book_in = []
when_scanned = []
untaxed_because = []


def scanned(order, person):
    """The address that a scanned tag opens for `person`, or None."""
    answers = (function(order, person) for function in when_scanned)
    return next((address for address in answers if address), None)


def untaxed(order):
    """Why no tax is billed for `order`, in two words; '' as a rule."""
    return next((reason for function in untaxed_because if (reason := function(order))), "")
