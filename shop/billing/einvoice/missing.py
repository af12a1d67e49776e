"""Whether an invoice can be one that machines read, and what is missing if not."""

# Members of CEN, whose standard EN 16931 is; its tax is value added tax. From memory, ISO 3166 codes.
CEN = {
    "AT", "BE", "BG", "CH", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GB", "GR", "HR", "HU", "IE", "IS", "IT",
    "LT", "LU", "LV", "MK", "MT", "NL", "NO", "PL", "PT", "RO", "RS", "SE", "SI", "SK", "TR",
}  # fmt: skip


def missing_of(seller):
    """What keeps an invoice of `seller` from carrying the electronic one, a sentence; '' when nothing does."""
    if not seller["country"]:
        return "The workshop’s country is not written down."
    if seller["country"] not in CEN:
        return "The standard for electronic invoices, EN 16931, is not used in the workshop’s country."
    if not seller["tax_number"].strip():
        return "The workshop’s tax number is not written down."
    return ""
