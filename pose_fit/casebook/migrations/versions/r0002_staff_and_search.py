"""Accounts of staff with throttled sign-in, and free-text search over cases."""

import unicodedata
from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "r0002"
down_revision = "r0001"
branch_labels = None
depends_on = None

_MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables and fill the search text of the cases that are there."""
    op.create_table(
        "staff",
        sa.Column("staff_id", sa.Integer, nullable=False),
        sa.Column("name", sa.String(100), nullable=False),
        sa.Column("name_key", sa.String(200), nullable=False),
        sa.Column("passphrase_hash", sa.String(200), nullable=False),
        sa.Column("added_at", _MOMENT, nullable=False),
        sa.Column("retired_at", _MOMENT, nullable=True),
        sa.PrimaryKeyConstraint("staff_id", name="pk_staff"),
        sa.UniqueConstraint("name_key", name="uq_staff_name_key"),
    )
    op.create_table(
        "sign_in_failures",
        sa.Column("bucket", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("failures", sa.Integer, nullable=False),
        sa.Column("last_at", _MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("bucket", name="pk_sign_in_failures"),
    )
    op.add_column("cases", sa.Column("search_text", sa.Text, nullable=False, server_default=""))
    _fill_search_text()
    if op.get_bind().dialect.name == "postgresql":
        op.execute("ALTER TABLE cases ALTER COLUMN search_text SET STATISTICS 0")


def downgrade() -> None:
    """Refused: it would throw accounts away."""
    raise NotImplementedError("a case book is not taken back to an earlier revision")


def _fill_search_text() -> None:
    cases = sa.table(
        "cases", sa.column("case_id"), sa.column("content", sa.JSON), sa.column("search_text")
    )
    connection = op.get_bind()
    for case_id in connection.execute(sa.select(cases.c.case_id)).scalars().all():
        is_case = cases.c.case_id == case_id
        content = connection.execute(sa.select(cases.c.content).where(is_case)).scalar_one()
        search_text = _folded("\n".join(_words(content)))
        connection.execute(cases.update().where(is_case).values(search_text=search_text))


def _words(content: dict[str, Any]) -> list[str]:
    words = [content["label"]]
    for clue in content["clues"]:
        words += [clue[key] for key in ("text", "source") if key in clue]
    decision = content["decision"]
    if decision:
        verdict = decision["verdict"]
        words.append(decision["by"])
        words += [verdict[key] for key in ("note", "message", "reason") if key in verdict]
    return words


def _folded(text: str) -> str:
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())
