"""What rooms above want the worker to do beside the mail.

A room above appends its function here when it starts. The worker calls each of them after every look at its queue,
with the workshop's zone set; it has to return within a second or two, so that no mail waits for it.
"""

beside_the_mail = []
