"""What a plan is made of."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Move:
    """One round of work: the step where it is done, what to do in sentences, and the sheet as it should read then."""

    what: str
    step: str
    texts: tuple
    after: object
    note: str = ""


@dataclass(frozen=True)
class Warned:
    """Something that will not work as things are. `work` names the work that would help, a key of `WORK`."""

    what: str
    headline: str
    why: str
    work: str = ""


@dataclass(frozen=True)
class Plan:
    """Every move in its order. `before` is the sheet as it stands, `end` as it should read at the end."""

    before: object
    moves: tuple
    warned: tuple
    end: object
