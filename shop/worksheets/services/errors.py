"""What a worksheet refuses, in sentences for people."""


class Refused(ValueError):
    """What was asked cannot be done now. The message is a sentence for people."""


class SheetClosed(Refused):
    """The worksheet is signed off, or its order is gone."""


class UnknownPlace(Refused):
    """No such step, reading, string or finding on this worksheet."""


class NotYet(Refused):
    """Sign-off is refused; `reasons` are whole sentences, in the order of the steps."""

    def __init__(self, reasons):
        super().__init__(" ".join(reasons))
        self.reasons = list(reasons)
