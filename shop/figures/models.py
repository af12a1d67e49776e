"""The owner's figures are worked out from other rooms' rows; this room keeps none of its own."""
