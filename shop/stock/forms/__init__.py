"""Forms of the price list and the shelf."""
