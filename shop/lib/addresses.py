"""Postal addresses as they are written in their country."""

# Where the postcode follows the town: common practice of these countries' posts, from memory; ISO 3166 codes.
TOWN_FIRST = {"AU", "CA", "GB", "IE", "IN", "NZ", "US"}


def address_lines(street, postcode, town, country=""):
    """The lines below the name: those of `street` as they were typed, then postcode and town."""
    parts = (town, postcode) if country in TOWN_FIRST else (postcode, town)
    last = " ".join(part for part in parts if part)
    return [line.strip() for line in (*street.splitlines(), last) if line.strip()]
