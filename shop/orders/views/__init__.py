"""Views of the orders, one file per page or job."""
