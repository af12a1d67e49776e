"""Forms of the orders, one file per job."""
