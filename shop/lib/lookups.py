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
