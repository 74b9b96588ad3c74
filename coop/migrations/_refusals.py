"""What a table refuses beyond its own columns. The name is what the database says when it refuses.

SQLite has no exclusion constraint and checks see one row only, so triggers look at the others. SQLite also
drops the triggers of a table that a migration rebuilds: such a migration begins and ends with `restore_rows`.
"""

from typing import NamedTuple

from django.db import migrations


class Refusal(NamedTuple):
    """A row that is refused before it is written or deleted; NEW is the row, OLD what it was."""

    name: str
    table: str
    event: str
    condition: str


class Overlap(NamedTuple):
    """Rows that agree in `alike` and share a day, or an hour where `is_hours`."""

    name: str
    table: str
    alike: tuple
    nullable: tuple = ()
    begin: str = "valid_from"
    end: str = "valid_until"
    is_hours: bool = False


def sqlite_trigger(refusal):
    return (
        f"CREATE TRIGGER {refusal.name}_{refusal.event.split()[0].lower()} BEFORE {refusal.event} ON {refusal.table} "
        f"WHEN {refusal.condition} BEGIN SELECT RAISE(ABORT, '{refusal.name}'); END"
    )


def postgresql_trigger(refusal):
    name = f"{refusal.name}_{refusal.event.split()[0].lower()}"
    # What a trigger hands back goes on; nothing would keep the row that was to go, without a word.
    goes_on = "OLD" if refusal.event == "DELETE" else "NEW"
    return (
        f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN IF {refusal.condition} THEN "
        f"RAISE EXCEPTION '{refusal.name}' USING ERRCODE = 'integrity_constraint_violation'; "
        f"END IF; RETURN {goes_on}; END $$; "
        f"CREATE TRIGGER {name} BEFORE {refusal.event} ON {refusal.table} FOR EACH ROW EXECUTE FUNCTION {name}()"
    )


def sqlite_overlap(overlap):
    """The two triggers of an overlap; IS, unlike =, finds two empty columns alike."""
    alike = " AND ".join(f"other.{column} IS NEW.{column}" for column in overlap.alike)
    begin, end = overlap.begin, overlap.end
    found = (
        f"SELECT 1 FROM {overlap.table} AS other WHERE {alike} "
        f"AND (other.{end} IS NULL OR other.{end} > NEW.{begin}) "
        f"AND (NEW.{end} IS NULL OR NEW.{end} > other.{begin})"
    )
    return [
        sqlite_trigger(Refusal(overlap.name, overlap.table, "INSERT", f"EXISTS ({found})")),
        sqlite_trigger(
            Refusal(overlap.name, overlap.table, "UPDATE", f"EXISTS ({found} AND other.id <> OLD.id)")
        ),
    ]


def postgresql_overlap(overlap):
    columns = [f"COALESCE({name}, 0)" if name in overlap.nullable else name for name in overlap.alike]
    span = f"daterange({overlap.begin}, {overlap.end})"
    if overlap.is_hours:
        # PostgreSQL has ranges of instants, none of hours: any one day will do.
        span = f"tsrange(DATE '2000-01-01' + {overlap.begin}, DATE '2000-01-01' + {overlap.end})"
    alike = ", ".join(f"{column} WITH =" for column in columns)
    return [
        "CREATE EXTENSION IF NOT EXISTS btree_gist",
        f"ALTER TABLE {overlap.table} ADD CONSTRAINT {overlap.name} EXCLUDE USING gist ({alike}, {span} WITH &&)",
    ]


def refuse_overlaps(overlaps):
    """The operation of a migration that makes the database refuse overlaps."""
    make = {"sqlite": sqlite_overlap, "postgresql": postgresql_overlap}
    take = {
        "sqlite": lambda it: [f"DROP TRIGGER {it.name}_{event}" for event in ("insert", "update")],
        "postgresql": lambda it: [f"ALTER TABLE {it.table} DROP CONSTRAINT {it.name}"],
    }
    return operation(overlaps, make, take)


def refuse_rows(refusals):
    """The operation of a migration that makes the database refuse rows by their neighbours."""
    make = {"sqlite": lambda it: [sqlite_trigger(it)], "postgresql": lambda it: [postgresql_trigger(it)]}
    take = {
        "sqlite": lambda it: [f"DROP TRIGGER {it.name}_{it.event.split()[0].lower()}"],
        "postgresql": lambda it: [f"DROP FUNCTION {it.name}_{it.event.split()[0].lower()} CASCADE"],
    }
    return operation(refusals, make, take)


def allow_rows(refusals):
    """The operation that takes refusals back, and going backwards makes them again."""
    refused = refuse_rows(refusals)
    return migrations.RunPython(refused.reverse_code, refused.code)


def restore_rows(refusals):
    """What a migration that rebuilds a table begins and ends with, so that both ways leave its triggers there.

    PostgreSQL rebuilds nothing and keeps them.
    """
    drop = "DROP TRIGGER IF EXISTS {0.name}_{1}"
    again = {
        "sqlite": lambda it: [drop.format(it, it.event.split()[0].lower()), sqlite_trigger(it)],
        "postgresql": lambda _it: [],
    }
    return operation(refusals, again, again)


def operation(wanted, make, take):
    return migrations.RunPython(statements(wanted, make), statements(wanted, take))


def statements(wanted, ways):
    def run(_apps, schema_editor):
        for one in wanted:
            for sql in ways[schema_editor.connection.vendor](one):
                schema_editor.execute(sql, params=None)

    return run


def with_triggers_aside(*rebuilding):
    """Operations that rebuild tables, with all triggers of SQLite out of their way and there again after them.

    A rebuilt table loses its triggers, and those of other tables that name it keep it from being rebuilt. What
    the operations themselves make or take stands outside of them.
    """
    kept = []

    def put_aside(_apps, schema_editor):
        if schema_editor.connection.vendor == "sqlite":
            with schema_editor.connection.cursor() as cursor:
                cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger' ORDER BY name")
                kept[:] = cursor.fetchall()
            for name, _ in kept:
                schema_editor.execute(f"DROP TRIGGER {name}", params=None)

    def put_back(_apps, schema_editor):
        for _, sql in kept:
            schema_editor.execute(sql, params=None)
        kept.clear()

    first = migrations.RunPython(put_aside, put_back)
    last = migrations.RunPython(put_back, put_aside)
    return (first, *rebuilding, last)
