"""Alembic's entry: migrate on the connection, and in the transaction, that the caller holds."""

from alembic import context

from pose_fit.casebook.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    # SQLite can roll back a changed table too; without this a migration could be left half done.
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
