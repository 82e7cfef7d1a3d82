"""A photo's record may tell snug legwear.

No table changes. But a program that does not know the word could not read such a record, so from
here on it is turned away.
"""

revision = "r0005"
down_revision = "r0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Nothing to rewrite: "fitted" in an old record may mean snug, and is the less sure of the two."""


def downgrade() -> None:
    """Refused: an older program could not read newer records."""
    raise NotImplementedError("a case book is not taken back to an earlier revision")
