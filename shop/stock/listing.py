"""The list of the shelf as its address asks for it, and as rows for a spreadsheet."""

from operator import attrgetter

from django.db.models import Count, F
from django.utils import timezone

from shop.lib.sorting import Column, Sorting
from shop.stock.forms.shelf import ADDED_UP
from shop.stock.levels import levels_of
from shop.stock.models import PriceItem, Supplier

HEADS = [
    "item", "kind", "place", "supplier", "supplier's number", "on hand", "reserved", "free", "on order", "reorder at",
    "order up to", "cost", "price", "standing",
]  # fmt: skip
ORDER_COLUMNS = (
    Column("item", "Item", ("item.name",)), Column("number", "Its number", ("item.supplier_code", "item.name")),
    Column("free", "Free", ("free", "item.name"), css="num"),
    Column("send", "Send", ("to_order", "item.name"), css="num", down=True),
)  # fmt: skip
ORDER_HEADS = ["supplier", "supplier's number", "item", "quantity", "cost each", "cost"]


def asked(form, branch=None):
    """Levels on the shelf of `branch` of what `form` (a ShelfForm) asks for.

    A shelf is short enough to be added up whole: three queries.
    """
    show = form.asked("show", "all")
    items = PriceItem.objects.on_shelf().filter(retired=show == "retired").select_related("supplier")
    if form.asked("kind"):
        items = items.filter(kind=form.asked("kind"))
    if show == "unused":
        items = items.filter(movements=None)
    sorting, added_up = form.sorting, form.sorting.column.key in ADDED_UP
    items = items.matching(form.asked("q")).order_by(*(("name", "pk") if added_up else sorting.order_by))
    levels = levels_of(items, branch)
    kept = {"low": lambda one: one.is_low, "below": lambda one: one.on_hand < 0}.get(show, lambda one: True)
    found = [level for level in levels if kept(level)]
    if branch is not None and sorting.column.key == "place":  # a branch has places of its own
        found.sort(key=lambda one: (one.item.place, one.item.name, one.item.pk), reverse=sorting.is_down)
    if added_up:
        found.sort(key=attrgetter(sorting.column.by[0]), reverse=sorting.is_down)
    return found


def rows(levels):
    for one in levels:
        item = one.item
        yield [
            item.name, item.get_kind_display(), item.place, str(item.supplier or ""), item.supplier_code, one.on_hand,
            one.reserved, one.free, item.on_order, item.reorder_at, item.order_up_to, item.cost, item.price,
            one.standing[0],
        ]  # fmt: skip


def order_rows(levels):
    """The list to send, a row an item."""
    for one in levels:
        item = one.item
        cost = None if item.cost is None else item.cost * one.to_order
        yield [str(item.supplier or ""), item.supplier_code, item.name, one.to_order, item.cost, cost]


PRICE_HEADS = ["item", "kind", "minutes", "tax rate", "price", "supplier's number", "still offered"]


def price_rows(items):
    """The price list, a row an item."""
    for item in items:
        yield [
            item.name, item.get_kind_display(), item.usual_minutes, item.tax_rate, item.price, item.supplier_code,
            "no" if item.retired else "yes",
        ]  # fmt: skip


def order_sorting(query):
    """How the items of each letter are sorted, as the address asks."""
    return Sorting(ORDER_COLUMNS, query.get("sort"), usual="item")


SUPPLIER_COLUMNS = (
    Column("name", "Name", ("name",)), Column("email", "E-mail", ("email", "name")), Column("phone", "Telephone"),
    Column("number", "Our number", ("customer_number", "name")),
    Column("items", "Items", ("how_many", "name"), css="num", down=True),
)  # fmt: skip
SUPPLIER_HEADS = ["supplier", "e-mail", "telephone", "website", "our number", "items", "notes"]


def suppliers(query):
    """(suppliers, sorting) as the address asks, each with `how_many` items come from there."""
    sorting = Sorting(SUPPLIER_COLUMNS, query.get("sort"), usual="name")
    return Supplier.objects.annotate(how_many=Count("items")).order_by(*sorting.order_by), sorting


def supplier_rows(found):
    for one in found:
        yield [one.name, one.email, one.phone, one.website, one.customer_number, one.how_many, one.notes]


MOVEMENT_COLUMNS = (
    Column("when", "When", ("pk",), down=True), Column("what", "What", ("kind", "-pk")),
    Column("quantity", "How many", ("quantity", "-pk"), css="num"),
    Column("cost", "Cost each", (F("cost").asc(nulls_last=True), "-pk"), css="num"),
    Column("by", "By", (F("by__shown_name").asc(nulls_last=True), "-pk")),
)  # fmt: skip
MOVEMENT_HEADS = ["when", "item", "what", "how many", "counted", "cost each", "order", "note", "by"]


def movements(item, branch, query, *, with_costs):
    """(movements, sorting) of `item` on the shelf of `branch`; what it cost is not for everybody's eyes."""
    columns = [one for one in MOVEMENT_COLUMNS if with_costs or one.key != "cost"]
    sorting = Sorting(columns, query.get("sort"), usual="-when")
    return item.movements.at(branch).select_related("by").order_by(*sorting.order_by), sorting


def movement_rows(item, found):
    for one in found.iterator(chunk_size=500):
        yield [
            f"{timezone.localtime(one.at):%Y-%m-%d %H:%M}", item.name, one.get_kind_display(), one.quantity,
            one.counted, one.cost, one.order_number, one.note, str(one.by or ""),
        ]  # fmt: skip
