"""What the pages of the bench print: plain objects made from a worksheet's evaluation, without a query of their own."""
