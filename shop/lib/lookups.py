"""Questions that each database answers from its index, asked in one way."""

from django.db import models
from django.db.models import lookups

LAST = "\U0010ffff"  # sorts behind every letter


@models.CharField.register_lookup
class Begins(lookups.StartsWith):
    """`field__begins="26-"`, by the field's index: SQLite's LIKE knows none, PostgreSQL's has one for beginnings."""

    lookup_name = "begins"

    def as_sqlite(self, compiler, connection):
        column, values = self.process_lhs(compiler, connection)
        return f"({column} >= %s AND {column} < %s)", [*values, self.rhs, *values, self.rhs + LAST]

    def as_postgresql(self, compiler, connection):
        return lookups.StartsWith(self.lhs, self.rhs).as_sql(compiler, connection)


@models.CharField.register_lookup
class InAnyCase(lookups.Exact):
    """`field__in_any_case="Mara@example.com"`, by an index over `Lower("field")`, which `iexact` does not use."""

    lookup_name = "in_any_case"

    def as_sql(self, compiler, connection):
        column, of_column = self.process_lhs(compiler, connection)
        value, of_value = self.process_rhs(compiler, connection)
        return f"LOWER({column}) = LOWER({value})", [*of_column, *of_value]
