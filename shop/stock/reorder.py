"""What to reorder, one letter a supplier."""

from dataclasses import dataclass
from urllib.parse import quote

from shop.lib import money
from shop.stock.levels import to_reorder
from shop.stock.models import Supplier

LONGEST_LETTER = 1500  # an address that mail programs still open


@dataclass(frozen=True)
class Letter:
    """What goes to one supplier (None: to nobody in particular)."""

    supplier: Supplier | None
    levels: list

    @property
    def key(self):
        return self.supplier.pk if self.supplier else 0

    @property
    def cost(self):
        """What it comes to where costs are known."""
        return sum((one.item.cost * one.to_order for one in self.levels if one.item.cost is not None), start=0)

    @property
    def unknown(self):
        """How many items have no cost on file."""
        return sum(one.item.cost is None for one in self.levels)

    def mail_address(self, workshop):
        """A `mailto:` address that opens the order as a letter in one's own mail program, or ''."""
        if not (self.supplier and self.supplier.email):
            return ""
        body = self._body(workshop)
        return f"mailto:{quote(self.supplier.email)}?subject={quote(f'Order from {workshop.name}')}&body={quote(body)}"

    def _body(self, workshop):
        number = self.supplier.customer_number
        head = f"Please send us{f' (customer number {number})' if number else ''}:\n\n"
        foot = f"\nTo: {workshop.name}\n{workshop.address}\n"
        lines = [f"{money.quantity(one.to_order)} × {_named(one.item)}\n" for one in self.levels]
        kept = []
        for line in lines:
            if len(head) + sum(map(len, kept)) + len(line) + len(foot) > LONGEST_LETTER:
                kept.append("… and what stands on the list enclosed.\n")
                break
            kept.append(line)
        return head + "".join(kept) + foot


def _named(item):
    return f"{item.name} ({item.supplier_code})" if item.supplier_code else item.name


def letters(supplier_key=None, branch=None, *, in_order=list):
    """Letters of what the shelf of `branch` needs; only to one supplier when `supplier_key` (0: nobody) is given.

    `in_order` sorts the items of each.
    """
    found = {}
    for level in to_reorder(branch):
        found.setdefault(level.item.supplier, []).append(level)
    made = [Letter(supplier, in_order(levels)) for supplier, levels in found.items()]
    return [one for one in made if supplier_key is None or one.key == supplier_key]
