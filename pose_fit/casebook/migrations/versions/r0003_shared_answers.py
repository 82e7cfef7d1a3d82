"""Answers that families share by a link, so that every process of the shop shows them."""

import sqlalchemy as sa
from alembic import op

revision = "r0003"
down_revision = "r0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """One table; what it holds stays out of PostgreSQL's statistics, as all of a family does."""
    op.create_table(
        "shared_answers",
        sa.Column("secret_hash", sa.String(64), nullable=False),
        sa.Column("ends_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("secret_hash", name="pk_shared_answers"),
    )
    op.create_index("ix_shared_answers_ends_at", "shared_answers", ["ends_at"])
    if op.get_bind().dialect.name == "postgresql":
        for column in ("secret_hash", "answer"):
            op.execute(f"ALTER TABLE shared_answers ALTER COLUMN {column} SET STATISTICS 0")


def downgrade() -> None:
    """Refused: an older program does not read what a newer one wrote."""
    raise NotImplementedError("a case book is not taken back to an earlier revision")
