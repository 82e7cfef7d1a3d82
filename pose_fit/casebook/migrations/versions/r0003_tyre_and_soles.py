"""A photo's record tells the tyre's width, the worn soles and the legwear.

No table changes: they are new names inside the record, absent from old ones. But a program that
does not know them would drop them when it writes a case, so from here on it is turned away.
"""

revision = "r0003"
down_revision = "r0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Nothing to rewrite: what an old record does not tell is unknown."""


def downgrade() -> None:
    """Refused: an older program would lose what newer records tell."""
    raise NotImplementedError("a case book is not taken back to an earlier revision")
