"""With a picture is kept what the pose model saw before its face was hidden."""

import sqlalchemy as sa
from alembic import op

revision = "r0004"
down_revision = "r0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Old pictures have none: a pose model must find the body in them again."""
    op.add_column("case_pictures", sa.Column("body", sa.LargeBinary, nullable=True))
    if op.get_bind().dialect.name == "postgresql":
        op.execute("ALTER TABLE case_pictures ALTER COLUMN body SET STATISTICS 0")


def downgrade() -> None:
    """Refused: it would throw bodies away."""
    raise NotImplementedError("a case book is not taken back to an earlier revision")
