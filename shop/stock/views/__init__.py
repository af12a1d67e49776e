"""Pages of the price list and the shelf."""
