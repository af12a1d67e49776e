"""One visit of one instrument, carried as far as asked, by the services that people use."""

import uuid
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from django.utils import timezone

from shop.billing import services as billing
from shop.billing.account import account_of
from shop.billing.models import PaymentKind
from shop.figures.demo import cast, setups
from shop.figures.demo.clock import at
from shop.handover import outbox
from shop.handover import services as handover
from shop.instruments import services as instruments
from shop.lib.dates import working_day_after
from shop.orders import services as orders
from shop.orders.models import Agreement, ConditionMark
from shop.orders.opening import opening_at
from shop.orders.states import State
from shop.staff.models import Workshop
from shop.stock.models import PriceItem
from shop.worksheets import services as worksheets
from shop.worksheets.evaluation import evaluate

S = State
# How far a visit goes on its way; each state has passed through those before it.
ROAD = (S.BOOKED_IN, S.ASSESSED, S.QUOTED, S.AGREED, S.ON_BENCH, S.CHECKED, S.READY, S.COLLECTED)
ASKED_ONLINE = (S.QUOTED, S.AGREED, S.DECLINED)  # where a visit ends with a quote by mail, or the answer to it
ASIDE = {
    S.WAITING_PARTS: (S.ON_BENCH, "two studs of the right thread are on order"),
    S.WAITING_CUSTOMER: (S.ON_BENCH, "more work was found; asked by telephone"),
    S.UNCOLLECTED: (S.READY, "called twice, wrote once"),
    S.DECLINED: (S.QUOTED, "the customer would rather wait until spring"),
}


class Visit:
    """Carries one order from book-in to `until`. `chance` is the random source, `staff` maps role to person."""

    def __init__(self, instrument, *, booked_at, until, chance, staff, story="", paid=True, is_recent=True,
                 has_sheet=True, mails_receipt=True, brings=None):
        self.instrument, self.moment, self.until = instrument, booked_at, State(until)
        self.chance, self.staff, self.story, self.paid = chance, staff, story, paid
        self.is_recent, self.has_sheet, self.mails_receipt = is_recent, has_sheet, mails_receipt
        self.brings = brings  # an instrument that comes along
        self.order = self.sheet = self.good = None

    def run(self):
        goal, reason = ASIDE.get(self.until, (self.until, ""))
        for state in ROAD[: ROAD.index(goal) + 1]:
            with at(self.moment):
                getattr(self, f"_{state.value}")()
            self.moment += timedelta(minutes=self.chance.randint(50, 900))
            if state == S.AGREED and not self.is_recent:  # the bench has other work, too
                self.moment += timedelta(days=self.chance.choice((0, 0, 1, 2, 3, 4, 6, 9, 14)))
        if reason:
            with at(self.moment):
                self._before_it_waits()
                orders.move(self.order, self.until, by=self.staff["counter"], reason=reason)
                outbox.deliver()
        return self.order

    def _before_it_waits(self):
        """What is asked at the bench, or answered by the customer, before the order goes aside."""
        if self.until == S.WAITING_CUSTOMER:  # it holds the order until somebody answers
            found = orders.NewLine.of(PriceItem.objects.get(name=cast.FOUND_AT_THE_BENCH))
            orders.add_lines(self.order, [found], by=self.staff["bench"])
        elif self.until == S.DECLINED:
            self._answer_online(lambda _place: Agreement.DECLINED)

    def _answer_online(self, answer_to):
        """The customer answers the quote on their own page; `answer_to(0)` is their word on its first line."""
        quote = self.order.quotes.first()
        answers = {kept["line"]: answer_to(place) for place, kept in enumerate(quote.lines)}
        orders.answer_quote(self.order, quote.version, answers, name=self.order.customer.name)

    def _promised(self, days):
        day = working_day_after(timezone.localdate(self.moment + timedelta(days=days)), 0)
        return opening_at(Workshop.here(), since=day).open_day(day)

    def _booked_in(self):
        pick = self.chance.choice
        wanted = cast.USUAL_WORK[self.instrument.family]
        lines = tuple(orders.NewLine.of(PriceItem.objects.get(name=name)) for name in wanted)
        booking = orders.Booking(
            customer=self.instrument.customer, instrument=self.instrument, complaint=pick(cast.COMPLAINTS),
            draft_key=uuid.UUID(int=self.chance.getrandbits(128), version=4), condition=pick(cast.CONDITION),
            came_with=pick(cast.CAME_WITH), promised_on=self._promised(pick((5, 7, 9, 12))),
            rack_slot=pick(Workshop.here().rack_slots.splitlines()), lines=lines,
            marks=(ConditionMark(x=pick((0.35, 0.5, 0.62)), y=pick((0.6, 0.72, 0.85)), note="small dent, old"),),
            intake_terms=Workshop.here().intake_terms,
        )  # fmt: skip
        together = [booking] if self.brings is None else [booking, self._second(booking)]
        # The invented shop began to mail receipts only last week: papers are what takes time here.
        hooks = {} if self.mails_receipt else {"afterwards": ()}
        self.order = orders.book_in_together(together, by=self.staff["counter"], **hooks)[0]
        outbox.deliver()

    def _second(self, first):
        """What the same customer brings along, which was never here before."""
        work = orders.NewLine.of(PriceItem.objects.get(name=cast.USUAL_WORK[self.brings.family][0]))
        return replace(
            first, instrument=self.brings, complaint=cast.SECOND_COMPLAINT, came_with="soft bag", rack_slot="",
            marks=(), condition="", lines=(work,), promised_on=self._promised(9),
            draft_key=uuid.UUID(int=self.chance.getrandbits(128), version=4),
        )  # fmt: skip

    def _assessed(self):
        orders.move(self.order, S.ASSESSED, by=self.staff["bench"])

    def _quoted(self):
        if self.until in ASKED_ONLINE and self.is_recent:
            handover.mail_quote(self.order, by=self.staff["counter"])
            outbox.deliver()
        orders.move(self.order, S.QUOTED, by=self.staff["counter"])

    def _agreed(self):
        if self.until in ASKED_ONLINE and self.is_recent:  # the work, but not the rest
            self._answer_online(lambda place: Agreement.DECLINED if place else Agreement.AGREED)
            return
        lines = list(self.order.lines.all())
        orders.answer_lines(self.order, lines, Agreement.AGREED, how="by telephone", by=self.staff["counter"])

    def _on_bench(self):
        bench = self.staff["bench"]
        orders.move(self.order, S.ON_BENCH, by=bench)
        if not self.has_sheet:
            return
        changed, spec = setups.STORIES.get(self.story, ({}, {}))
        measured = {key: (value, f"{value:g}") for key, value in spec.items()}
        instruments.record_spec_values(self.instrument, measured, by=bench)
        self.sheet = worksheets.start_worksheet(self.order, by=bench)
        self.good = setups.left(self.sheet, self.chance)
        rooms = setups.true_rooms(self.sheet, self.good, self.chance)
        came, off = setups.received(self.sheet, self.good, self.chance)
        came |= setups.saddles(rooms, off) | changed
        self.good |= setups.saddles(rooms)
        room = dict(zip(setups.AIR, self.chance.choice(setups.ROOMS), strict=True))
        setups.write(self.sheet, "received", came | room, by=bench)
        worksheets.mark_done(self.sheet, step="inspect", by=bench)
        if self.story:
            setups.write(self.sheet, "bench", came | setups.answers(self.sheet), by=bench, steps=("strings", "tail"))
            worksheets.mark_done(self.sheet, step="strings", by=bench)

    def _checked(self):
        bench = self.staff["bench"]
        if self.sheet is None:
            orders.move(self.order, S.CHECKED, by=bench, reason="played through and read again at the bench")
            return
        good = self.good | setups.answers(self.sheet)
        setups.write(self.sheet, "bench", good, by=bench)
        setups.write(self.sheet, "left", good, by=bench)
        for step in self.sheet.family_plan.steps:
            worksheets.mark_done(self.sheet, step=step.key, by=bench)
        for finding in evaluate(self.sheet).open_findings:
            reason = "played in and heard: as good as this gauge can tell"
            worksheets.accept_finding(self.sheet, finding_key=finding.key, reason=reason, by=bench)
        later = timezone.localdate(self.moment + timedelta(days=330))
        self._say_the_time()
        worksheets.sign_off(self.sheet, by=bench, watch=self.chance.choice(cast.WATCH), next_check_on=later)

    def _say_the_time(self):
        estimated = sum(line.minutes for line in self.order.lines.all())
        for step, share in (("strings", 0.3), ("intonation", 0.7)):
            spent = round(estimated * share * self.chance.uniform(0.7, 1.4))
            worksheets.set_time(self.sheet, step=step, minutes=spent, by=self.staff["bench"])

    def _ready(self):
        handover.make_ready(self.order, by=self.staff["counter"])
        outbox.deliver()
        if self.paid:
            self._pay()

    def _pay(self):
        owed = account_of(self.order, Workshop.here()).to_pay
        if owed > Decimal(0):
            kind = self.chance.choice((PaymentKind.CARD, PaymentKind.CASH, PaymentKind.TRANSFER))
            billing.receive(self.order, amount=owed, kind=kind, key=uuid.uuid4(), by=self.staff["counter"])

    def _collected(self):
        reason = "" if self.paid else "an old customer; pays by transfer this week"
        handover.collect(self.order, by=self.staff["counter"], reason=reason)
