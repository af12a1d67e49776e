"""What has changed since something was added up over it, written down by the database itself.

Whoever changes a row, a service, an import or somebody at the database's own prompt, leaves a note about it in a table,
within the same transaction. So what was added up can never pass for newer than it is. A note holds only what stands
in the row itself: looking for more is left to whoever reads it, and saving stays quick.
"""

from dataclasses import dataclass

from django.db import migrations

WRITE = "INSERT INTO {into} (question, thing, key, day) SELECT '{question}', '{thing}', {key}, {day} WHERE {when};"
DAY = {
    "sqlite": "date({row}.{column})",
    "postgresql": "CAST(CAST({row}.{column} AS timestamptz) AT TIME ZONE 'UTC' AS date)",
}
SQLITE = "CREATE TRIGGER {name} AFTER {event} ON {table} BEGIN {writes} END"
POSTGRESQL = (
    "CREATE FUNCTION {name}() RETURNS trigger AS $$ BEGIN {writes} RETURN NULL; END $$ LANGUAGE plpgsql;"
    "CREATE TRIGGER {name} AFTER {event} ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()"
)
ROWS = {"insert": ["NEW"], "update": ["OLD", "NEW"], "delete": ["OLD"]}


@dataclass(frozen=True)
class Note:
    """What is written when a row changes: for which questions, the day (of UTC) in the column `day`, and the `thing`
    whose key is in the column `key`. Without a thing a row without a day leaves nothing. `when` is SQL over `{row}`."""

    questions: tuple
    day: str = ""
    thing: str = ""
    key: str = ""
    when: str = "1 = 1"

    def sql(self, vendor, row, into):
        day = DAY[vendor].format(row=row, column=self.day) if self.day else "NULL"
        key = f"{row}.{self.key}" if self.key else "NULL"
        when = self.when.format(row=row) + ("" if self.thing else f" AND {row}.{self.day} IS NOT NULL")
        return "".join(
            WRITE.format(into=into, question=one, thing=self.thing, key=key, day=day, when=when)
            for one in self.questions
        )


def touched(name, table, *notes, into, columns=(), events=("insert", "update", "delete")):
    """A migration operation: each change of a row of `table` leaves `notes` in the table `into`.

    An update is one only of `columns`; without any, of all. A later migration that alters the table on SQLite makes it
    anew, without its triggers, and has to add this operation again.
    """
    names = {event: f"{name}_{event}" for event in events}

    def watch(_apps, editor):
        vendor = editor.connection.vendor
        for event in events:
            writes = "".join(note.sql(vendor, row, into) for row in ROWS[event] for note in notes)
            on = f"UPDATE OF {', '.join(columns)}" if event == "update" and columns else event.upper()
            form = SQLITE if vendor == "sqlite" else POSTGRESQL
            editor.execute(form.format(name=names[event], event=on, table=table, writes=writes), params=None)

    def look_away(_apps, editor):
        for one in names.values():
            if editor.connection.vendor == "sqlite":
                editor.execute(f"DROP TRIGGER {one}")
            else:
                editor.execute(f"DROP TRIGGER {one} ON {table}; DROP FUNCTION {one}()")

    return migrations.RunPython(watch, look_away)
