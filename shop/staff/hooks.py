"""What rooms above have to say before a branch is closed.

Imports run one way, so this room cannot look at orders. A room above appends its function here when it starts (its
AppConfig.ready); plain lists, called in order.

keeps_open: called as `function(branch)`; gives the sentence that says what still has to be done there, or ''.
"""

keeps_open = []
