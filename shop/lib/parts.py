"""Rows found by any part of what they say: three letters or more anywhere in `search_key`, by an index made for it.

A model that is found so keeps a folded `search_key`. SQLite holds its trigrams in a table of FTS5 beside it, PostgreSQL
in a GIN index of pg_trgm; what is asked and answered is the same. One or two letters alone are taken for a beginning.
"""

from django.db import ProgrammingError, connections, migrations, models, transaction

from shop.lib import lookups  # noqa: F401 (search_key__begins)

LEAST = 3  # letters that an index of trigrams can find
MOST = 500  # rows that a search looks at, the newest first; whoever sees more of them than that types on
MOST_WORDS = 8
LONGEST_WORD = 60

TABLE = (
    "CREATE VIRTUAL TABLE {found} USING fts5(search_key, content='{table}', content_rowid='id', columnsize=0, "
    "tokenize='trigram case_sensitive 1')"
)
NEW = "INSERT INTO {found}(rowid, search_key) VALUES (NEW.id, NEW.search_key);"
OLD = "INSERT INTO {found}({found}, rowid, search_key) VALUES ('delete', OLD.id, OLD.search_key);"
REBUILD = "INSERT INTO {found}({found}) VALUES ('rebuild')"
TRIGGERS = {
    "put": "AFTER INSERT ON {table} BEGIN " + NEW + " END",
    "drop": "AFTER DELETE ON {table} BEGIN " + OLD + " END",
    "turn": "AFTER UPDATE OF search_key ON {table} WHEN OLD.search_key <> NEW.search_key BEGIN " + OLD + NEW + " END",
}


def found_by_parts(table):
    """A migration operation: the rows of `table` are found by parts of their `search_key`.

    A later migration that alters the table on SQLite makes it anew, without its triggers, and has to add this again.
    On a server the database's owner may add the extension pg_trgm; where nobody may, searches go through all rows.
    """
    names = {"table": table, "found": _index_of(table)}

    def make(_apps, editor):
        (_make_in_file if editor.connection.vendor == "sqlite" else _make_on_server)(editor, **names)

    def drop(_apps, editor):
        if editor.connection.vendor != "sqlite":
            editor.execute("DROP INDEX IF EXISTS {found}".format(**names))
            return
        for what in TRIGGERS:
            editor.execute(f"DROP TRIGGER {names['found']}_{what}")
        editor.execute("DROP TABLE {found}".format(**names))

    return migrations.RunPython(make, drop)


def _make_in_file(editor, **names):
    editor.execute(TABLE.format(**names), params=None)
    for what, trigger in TRIGGERS.items():
        editor.execute(f"CREATE TRIGGER {names['found']}_{what} " + trigger.format(**names), params=None)
    editor.execute(REBUILD.format(**names), params=None)


def _make_on_server(editor, *, table, found):
    try:
        with transaction.atomic(using=editor.connection.alias):
            editor.execute("CREATE EXTENSION IF NOT EXISTS pg_trgm")
    except ProgrammingError:  # not the database's owner
        return
    editor.execute(f"CREATE INDEX {found} ON {table} USING gin (search_key gin_trgm_ops)")


def _index_of(table):
    return f"{table}_found"


def at_most(whole):
    """What `most` is of a list, and of the same list written out whole."""
    return None if whole else MOST


def words_of(text):
    """The words of `text`, which is folded, as many and as long as can single something out."""
    return [word[:LONGEST_WORD] for word in text.split()[:MOST_WORDS]]


def keys_of(rows, choices, *, most=MOST):
    """The keys of the rows that hold all the words of one of `choices`, at most `most`, the newest first.

    rows: a queryset of all rows of a model. choices: lists of folded words. most=None: not a list but a subquery.
    """
    choices = [words for words in choices if words]
    usable = _widest([words for words in choices if any(len(word) >= LEAST for word in words)])
    if not usable:
        found = rows.filter(_holds(choices[0], begins=True)) if choices else rows.none()
        found = found.order_by("search_key", "pk")
    elif connections[rows.db].vendor == "sqlite":
        return _by_fts(rows, usable, most)
    else:
        found = rows.filter(_any(_holds(words) for words in usable)).order_by("-pk")
    keys = found.values_list("pk", flat=True)
    return keys if most is None else list(keys[:most])


def _widest(choices):
    """`choices` without those that find nothing more: whoever holds 01632 960148 holds 1632 960148 too."""
    wide = []
    for words in sorted(choices, key=lambda words: sum(map(len, words))):
        if not any(all(any(one in word for word in words) for one in other) for other in wide):
            wide.append(words)
    return [words for words in choices if any(words is one for one in wide)]


def _holds(words, *, begins=False):
    first, *rest = words
    found = models.Q(search_key__begins=first) if begins else models.Q(search_key__contains=first)
    for word in rest:
        found &= models.Q(search_key__contains=word)
    return found


def _any(conditions):
    found = models.Q()
    for one in conditions:
        found |= one
    return found


def _by_fts(rows, choices, most):
    table = _index_of(rows.model._meta.db_table)
    asked = " OR ".join("(" + " AND ".join(map(_quoted, words)) + ")" for words in map(_long, choices))
    sql, values = f"SELECT rowid FROM {table} WHERE {table} MATCH %s", [asked]  # noqa: S608 (our own name)
    if any(len(word) < LEAST for words in choices for word in words):
        whole = " OR ".join("(" + " AND ".join("instr(search_key, %s) > 0" for _ in words) + ")" for words in choices)
        sql += f" AND ({whole})"
        values += [word for words in choices for word in words]
    if most is None:
        return models.expressions.RawSQL(sql, values)  # noqa: S611 (what was typed is among the values)
    with connections[rows.db].cursor() as cursor:
        cursor.execute(f"{sql} ORDER BY rowid DESC LIMIT {int(most)}", values)
        return [key for (key,) in cursor.fetchall()]


def _long(words):
    return [word for word in words if len(word) >= LEAST]


def _quoted(word):
    return '"' + word.replace('"', '""') + '"'
