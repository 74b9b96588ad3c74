"""What the database refuses beyond columns, put aside while rows come in as they were elsewhere."""

from contextlib import contextmanager

from django.apps import apps
from django.db import connection


@contextmanager
def put_aside():
    """Within a transaction: if something goes wrong, its end brings the triggers back, too."""
    take, give = {"sqlite": (take_sqlite, give_sqlite), "postgresql": (take_postgresql, give_postgresql)}[
        connection.vendor
    ]
    with connection.cursor() as cursor:
        kept = take(cursor)
    yield
    with connection.cursor() as cursor:
        give(cursor, kept)


def our_tables():
    return sorted(model._meta.db_table for model in apps.get_app_config("coop").get_models())


def take_sqlite(cursor):
    cursor.execute("SELECT name, tbl_name, sql FROM sqlite_master WHERE type = 'trigger' ORDER BY name")
    found = [(name, sql) for name, table, sql in cursor.fetchall() if table in our_tables()]
    for name, _ in found:
        cursor.execute(f'DROP TRIGGER "{name}"')
    return [sql for _, sql in found]


def give_sqlite(cursor, kept):
    for sql in kept:
        cursor.execute(sql)


def take_postgresql(cursor):
    # A table cannot be changed while the check of a reference still waits for the end of the transaction.
    cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
    for table in our_tables():
        cursor.execute(f'ALTER TABLE "{table}" DISABLE TRIGGER USER')


def give_postgresql(cursor, _kept):
    for table in our_tables():
        cursor.execute(f'ALTER TABLE "{table}" ENABLE TRIGGER USER')
