"""Codes of families stay out of PostgreSQL's statistics, which keep samples after a deletion."""

from alembic import op

revision = "r0002"
down_revision = "r0001"
branch_labels = None
depends_on = None

_CODES = (
    ("cases", "reply_code", "varchar(16)"),
    ("cases", "child_code", "varchar(16)"),
    ("submissions", "name", "varchar(64)"),
)


def upgrade() -> None:
    """No samples from now on, and none of those taken before."""
    if op.get_bind().dialect.name != "postgresql":
        return
    for table, column, kind in _CODES:
        op.execute(f"ALTER TABLE {table} ALTER COLUMN {column} SET STATISTICS 0")
        # The same type again: the server forgets what it knew of the column.
        op.execute(f"ALTER TABLE {table} ALTER COLUMN {column} TYPE {kind}")


def downgrade() -> None:
    """Refused: an older program does not read what a newer one wrote."""
    raise NotImplementedError("a case book is not taken back to an earlier revision")
