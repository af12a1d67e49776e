"""Fills an empty workshop: staff, prices, customers, instruments and two years of orders in every state."""

import random
from datetime import datetime, timedelta
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from shop.figures.demo import cast, shelf
from shop.figures.demo.clock import at
from shop.figures.demo.visits import Visit
from shop.instruments import services as instruments
from shop.instruments.kinds import BridgeFamily, Kind
from shop.instruments.models import Instrument
from shop.lib.folding import folded
from shop.orders.models import ClosedDays
from shop.orders.states import State
from shop.people.models import Customer
from shop.staff.models import Person, Workshop
from shop.staff.zone import in_workshop
from shop.stock.models import PriceItem
from shop.worksheets import profiles

# The newest visits, nearest to today first: (days ago, state, story, paid, bridge; '' for any).
TWO_POST, PINNED, PLATE, VIBRATO, FLOATING = (
    BridgeFamily.TWO_POST_STOP, BridgeFamily.PINNED, BridgeFamily.FLAT_PLATE, BridgeFamily.VIBRATO,
    BridgeFamily.FLOATING,
)  # fmt: skip
NOW_IN_THE_SHOP = (
    (0, State.BOOKED_IN, "", True, ""),
    (2, State.ASSESSED, "", True, ""),
    (2, State.AGREED, "", True, ""),
    (3, State.QUOTED, "", True, ""),
    (4, State.ON_BENCH, "rear edge", True, TWO_POST),
    (5, State.ON_BENCH, "empty window", True, TWO_POST),
    (6, State.ON_BENCH, "saddle cannot reach", True, TWO_POST),
    (7, State.ON_BENCH, "under way", True, FLOATING),
    (9, State.WAITING_PARTS, "under way", True, VIBRATO),
    (11, State.WAITING_CUSTOMER, "under way", True, PINNED),
    (12, State.CHECKED, "", True, PLATE),
    (14, State.READY, "", True, TWO_POST),
    (17, State.READY, "", False, VIBRATO),
    (21, State.DECLINED, "", True, ""),
    (75, State.UNCOLLECTED, "", False, PINNED),
    (3, State.ON_BENCH, "under way", True, PLATE),
    (16, State.CHECKED, "", True, FLOATING),
)
TWO_YEARS = 730
RECENT_DAYS = 60
RECEIPT_DAYS = 8  # since when receipts are mailed


class NotEmpty(Exception):
    """There is work on file already. The message is a sentence for people."""


@transaction.atomic
def load(*, orders=40, seed=1, say=lambda _text: None):
    """Fill the workshop with `orders` orders drawn from `seed`; all of it or nothing. Returns the staff's sign-ins."""
    if Customer.objects.exists() or Person.objects.exists():
        raise NotEmpty("There is something on file already; the demo fills an empty data folder only.")
    _workshop()
    with in_workshop(Workshop.here()):
        return _load(orders, seed, say)


def _load(orders, seed, say):
    chance = random.Random(seed)  # noqa: S311 - draws an invented workshop, guards nothing
    now = timezone.now()
    with at(now - timedelta(days=TWO_YEARS + 20)):
        staff = _prices_and_staff()
        shelf.fill(by=staff["owner"])
        owned = _instruments(chance, max(20, orders // 2), staff)
    plan = sorted(_plan(chance, orders, owned, now), key=lambda visit: visit["booked_at"])
    for count, visit in enumerate(plan, start=1):
        if not visit["is_recent"]:  # the newest visits have left something to be reordered
            with at(visit["booked_at"]):
                shelf.deliver(by=staff["counter"])
        Visit(chance=chance, staff=staff, **visit).run()
        say(f"{count} of {len(plan)} orders")
    with at(now - timedelta(hours=3)):
        shelf.recount(by=staff["counter"])
    return [(name, cast.PASSWORD, role) for name, _, role in cast.STAFF]


def sign_ins_on_file():
    """The demo's sign-ins that still hold, as `load` returned them: it may have been cut off before it said so."""
    people = Person.objects.in_bulk([name for name, _, _ in cast.STAFF], field_name="username")
    return [
        (name, cast.PASSWORD, role)
        for name, _, role in cast.STAFF
        if name in people and people[name].check_password(cast.PASSWORD)
    ]


def _workshop():
    workshop = Workshop.here()
    for name, value in cast.WORKSHOP.items():
        setattr(workshop, name, value)
    workshop.save(update_fields=list(cast.WORKSHOP))


def _prices_and_staff():
    workshop = Workshop.here()
    profiles.ensure_usual_profiles()
    day = timezone.localdate() + timedelta(days=TWO_YEARS + 20)
    for ahead, days, name in cast.CLOSED:
        first = day + timedelta(days=ahead)
        ClosedDays.objects.create(first=first, last=first + timedelta(days=days - 1), name=name)
    PriceItem.objects.bulk_create(
        PriceItem(name=name, kind=kind, price=Decimal(price), tax_rate=workshop.tax_rate, usual_minutes=minutes)
        for name, kind, price, minutes in cast.PRICES
    )
    return {
        role: Person.objects.create_user(username=name, shown_name=shown, role=role, password=cast.PASSWORD)
        for name, shown, role in cast.STAFF
    }


def _instruments(chance, count, staff):
    """Customers with their instruments; every other one has the bridge that the bench knows best."""
    others = cast.OTHER_BRIDGES
    built = [cast.USUAL_BRIDGE if number % 2 == 0 else others[number // 2 % len(others)] for number in range(count)]
    return [_instrument(chance, number, *one, staff) for number, one in enumerate(built)]


def _instrument(chance, number, kind, family, staff):
    first, last = cast.FIRST[number % len(cast.FIRST)], cast.LAST[(number * 7 + number // 20) % len(cast.LAST)]
    customer = Customer.objects.create(
        name=f"{first} {last}", phone=f"+44 7700 900{number % 1000:03d}", created_by=staff["counter"],
        email="" if number % 9 == 8 else f"{folded(first)}.{folded(last)}{number or ''}@example.com",
        address=f"{number + 3} Weir Street", postcode="ZZ1 4QX", town="Marlow Quay",
        taste=chance.choice(cast.TASTES),
    )  # fmt: skip
    one = Instrument.objects.create(
        customer=customer, kind=kind, family=family, string_count=cast.STRINGS.get(kind, 6),
        maker=chance.choice(cast.MAKERS), model_name=chance.choice(cast.MODELS[kind]),
        serial=f"{chance.choice('KLMT')}{chance.randint(10, 99)}-{chance.randint(1000, 9999)}",
        colour=chance.choice(cast.COLOURS), year=str(chance.randint(1994, 2024)),
        post_thread="M4" if number % 3 else "", stud_thread="M8" if number % 3 else "", saddle_thread="M3",
    )  # fmt: skip
    return _measured(one, chance, staff)


def _measured(instrument, chance, staff):
    """Some of the specification is measured; the rest stays assumed, as in life."""
    if instrument.family == BridgeFamily.TWO_POST_STOP:
        known = {"scale_bass_mm": 628.0, "scale_treble_mm": 628.0, "fret_count": 22.0, "spread_bridge_mm": 51.0}
        if chance.random() < 0.6:
            known |= {"post_span_mm": 74.0, "stud_span_mm": 82.0, "tail_run_mm": 40.0, "board_radius_nut_mm": 305.0}
        instruments.record_spec_values(
            instrument, {key: (value, f"{value:g}") for key, value in known.items()}, by=staff["bench"]
        )
    return instrument


def _plan(chance, orders, owned, now):
    """Which instrument comes when, and how far its visit goes. An instrument is never here twice at once."""
    guitars = [one for one in owned if one.family == BridgeFamily.TWO_POST_STOP]
    others = [one for one in owned if one not in guitars]
    here = list(NOW_IN_THE_SHOP[: max(1, min(len(NOW_IN_THE_SHOP), orders - 1))])
    busy, visits = set(), []
    choosy_first = sorted(here, key=lambda one: not one[-1])
    for days, state, story, paid, bridge in choosy_first:
        pool = [one for one in owned if one.pk not in busy and bridge in ("", one.family)] or guitars
        instrument = chance.choice(pool)
        busy.add(instrument.pk)
        visits.append(_visit(instrument, now, days, state, story, paid, has_sheet=bool(bridge)))
    returning = guitars[:4] or others
    first = next((one for one in visits if one["until"] == State.BOOKED_IN), visits[0])
    first["brings"] = Instrument(
        kind=Kind.STEEL, family=BridgeFamily.PINNED, string_count=6, maker=cast.MAKERS[0],
        model_name=cast.MODELS[Kind.STEEL][0], serial="N58-2210", colour="natural",
    )  # fmt: skip
    before = orders - len(here) - 1  # one visit brought two
    for number in range(before):
        spread = TWO_YEARS - 100
        days = 100 + int(spread * (number + 0.5) / max(1, before)) + chance.randint(-6, 6)
        instrument = returning[number % len(returning)] if number % 2 == 0 else chance.choice(owned)
        # Every third worksheet of the other bridges was kept: enough to be looked at.
        has_sheet = instrument in guitars or number % 3 == 0
        visits.append(_visit(instrument, now, days, State.COLLECTED, "", number != 1, has_sheet=has_sheet))
    return visits


def _visit(instrument, now, days, state, story, paid, *, has_sheet):
    zone = timezone.get_current_timezone()
    day = timezone.localdate(now - timedelta(days=days))
    booked_at = min(datetime(day.year, day.month, day.day, 9, 40, tzinfo=zone), now - timedelta(minutes=20))
    return {
        "instrument": instrument, "booked_at": booked_at, "until": state, "story": story, "paid": paid,
        "is_recent": days < RECENT_DAYS, "has_sheet": has_sheet, "mails_receipt": days < RECEIPT_DAYS,
    }  # fmt: skip
