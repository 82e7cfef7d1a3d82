"""A photo's record tells whether the heels were said to be on the floor.

No table changes: it is a new name inside the record, absent from old ones. But a program that does
not know it would drop it when it writes a case, so from here on it is turned away.
"""

revision = "r0006"
down_revision = "r0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Nothing to rewrite: of an old record's heels nobody was asked to say anything."""


def downgrade() -> None:
    """Refused: an older program would lose what newer records tell."""
    raise NotImplementedError("a case book is not taken back to an earlier revision")
