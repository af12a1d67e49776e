"""The countries that there are, by ISO 3166, as the time zone database lists them."""

from functools import cache
from importlib.resources import files

# What people write for a country whose code is another one.
OTHERWISE = {"UK": "GB", "EL": "GR"}  # as in addresses; as in VAT numbers


@cache
def country_codes():
    """All codes of two letters."""
    lines = files("tzdata.zoneinfo").joinpath("iso3166.tab").read_text("utf-8").splitlines()
    return frozenset(line.split("\t")[0] for line in lines if line and not line.startswith("#"))
