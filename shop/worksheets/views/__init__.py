"""The bench's pages, one file for each of them."""
