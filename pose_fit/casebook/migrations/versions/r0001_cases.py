"""Cases, their history, pictures and drafts; what was erased; the shop's accounts, settings and stock."""

import sqlalchemy as sa
from alembic import op

revision = "r0001"
down_revision = None
branch_labels = None
depends_on = None

# Written out again on purpose, as is usual for migrations: a revision says what a book of its day
# holds, and must go on doing so when `tables.py`, the present, changes. A test compares both ends.
_MOMENT = sa.DateTime(timezone=True)
#: What families wrote. PostgreSQL would copy samples of it into its statistics.
_PRIVATE = {
    "cases": ("label_key", "content", "search_text"),
    "case_events": ("details",),
    "case_pictures": ("jpeg", "body"),
    "case_drafts": ("action",),
}


def upgrade() -> None:
    """Make the tables, and make history append-only."""
    _make_cases()
    _make_what_leaves_with_a_case()
    _make_the_shops_own()
    if op.get_bind().dialect.name == "postgresql":
        _append_only_postgresql()
        for table, columns in _PRIVATE.items():
            for column in columns:
                op.execute(f"ALTER TABLE {table} ALTER COLUMN {column} SET STATISTICS 0")
    else:
        _append_only_sqlite()


def downgrade() -> None:
    """Refused: it would throw cases away."""
    raise NotImplementedError("a case book is not taken back to an earlier revision")


def _make_cases() -> None:
    op.create_table(
        "cases",
        sa.Column("case_id", sa.Integer, nullable=False),
        sa.Column("reply_code", sa.String(16), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("state", sa.String(20), nullable=False),
        sa.Column("received_at", _MOMENT, nullable=False),
        sa.Column("changed_at", _MOMENT, nullable=False),
        sa.Column("waiting_since", _MOMENT, nullable=False),
        sa.Column("label_key", sa.Text, nullable=False),
        sa.Column("content", sa.JSON, nullable=False),
        sa.Column("search_text", sa.Text, nullable=False, server_default=""),
        sa.Column("taped_on", sa.Date, nullable=True),
        sa.Column("child_code", sa.String(16), nullable=True),
        sa.PrimaryKeyConstraint("case_id", name="pk_cases"),
        sa.UniqueConstraint("reply_code", name="uq_cases_reply_code"),
        sa.CheckConstraint("version >= 1", name=op.f("ck_cases_version")),
        sqlite_autoincrement=True,
    )
    op.create_index(
        "ix_cases_state_waiting_since_case_id", "cases", ["state", "waiting_since", "case_id"]
    )
    op.create_index("ix_cases_taped_on", "cases", ["taped_on"])
    op.create_index("ix_cases_child_code", "cases", ["child_code"])
    op.create_table(
        "erasures",
        sa.Column("erasure_id", sa.Integer, nullable=False),
        sa.Column("case_id", sa.Integer, nullable=False),
        sa.Column("what", sa.String(20), nullable=False),
        sa.Column("at", _MOMENT, nullable=False),
        sa.Column("by", sa.String(100), nullable=False),
        sa.Column("cleaned_at", _MOMENT, nullable=True),
        sa.PrimaryKeyConstraint("erasure_id", name="pk_erasures"),
    )


def _make_what_leaves_with_a_case() -> None:
    op.create_table(
        "case_events",
        sa.Column("event_id", sa.Integer, nullable=False),
        sa.Column("case_id", sa.Integer, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("at", _MOMENT, nullable=False),
        sa.Column("by", sa.String(100), nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("details", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("event_id", name="pk_case_events"),
        _leaves_with_case("case_events"),
    )
    op.create_index("ix_case_events_case_id", "case_events", ["case_id"])
    op.create_table(
        "case_pictures",
        sa.Column("case_id", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("place", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("jpeg", sa.LargeBinary, nullable=False),
        sa.Column("body", sa.LargeBinary, nullable=True),
        sa.PrimaryKeyConstraint("case_id", "place", name="pk_case_pictures"),
        _leaves_with_case("case_pictures"),
    )
    op.create_table(
        "submissions",
        sa.Column("name", sa.String(64), nullable=False),
        sa.Column("case_id", sa.Integer, nullable=False),
        sa.Column("at", _MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_submissions"),
        _leaves_with_case("submissions"),
    )
    op.create_index("ix_submissions_case_id", "submissions", ["case_id"])
    op.create_table(
        "case_drafts",
        sa.Column("case_id", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("by", sa.String(100), nullable=False),
        sa.Column("based_on", sa.Integer, nullable=False),
        sa.Column("kept_at", _MOMENT, nullable=False),
        sa.Column("action", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("case_id", "by", name="pk_case_drafts"),
        _leaves_with_case("case_drafts"),
    )


def _make_the_shops_own() -> None:
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
        "staff_sign_ins",
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("name_key", sa.String(200), nullable=False),
        sa.Column("ends_at", _MOMENT, nullable=False),
        sa.Column("seen_at", _MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("token_hash", name="pk_staff_sign_ins"),
    )
    op.create_table(
        "settings",
        sa.Column("name", sa.String(40), nullable=False),
        sa.Column("value", sa.JSON, nullable=False),
        sa.Column("at", _MOMENT, nullable=False),
        sa.Column("by", sa.String(100), nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_settings"),
    )
    op.create_table(
        "stock_changes",
        sa.Column("change_id", sa.Integer, nullable=False),
        sa.Column("at", _MOMENT, nullable=False),
        sa.Column("by", sa.String(100), nullable=False),
        sa.Column("what", sa.Text, nullable=False),
        sa.Column("catalogue", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("change_id", name="pk_stock_changes"),
    )
    op.create_table(
        "sign_in_failures",
        sa.Column("bucket", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("failures", sa.Integer, nullable=False),
        sa.Column("last_at", _MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("bucket", name="pk_sign_in_failures"),
    )


def _leaves_with_case(table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        ["case_id"], ["cases.case_id"], name=f"fk_{table}_case_id", ondelete="CASCADE"
    )


def _append_only_sqlite() -> None:
    op.execute(
        "CREATE TRIGGER case_events_stay BEFORE UPDATE ON case_events"
        " BEGIN SELECT RAISE(ABORT, 'history is append-only'); END"
    )
    op.execute(
        "CREATE TRIGGER case_events_leave BEFORE DELETE ON case_events"
        " WHEN EXISTS (SELECT 1 FROM cases WHERE case_id = OLD.case_id)"
        " BEGIN SELECT RAISE(ABORT, 'history leaves only with its case'); END"
    )


def _append_only_postgresql() -> None:
    op.execute(
        "CREATE FUNCTION case_events_append_only() RETURNS trigger LANGUAGE plpgsql AS $$"
        " BEGIN"
        " IF TG_OP = 'UPDATE' THEN RAISE EXCEPTION 'history is append-only'; END IF;"
        " IF EXISTS (SELECT 1 FROM cases WHERE case_id = OLD.case_id) THEN"
        " RAISE EXCEPTION 'history leaves only with its case'; END IF;"
        " RETURN OLD;"
        " END $$"
    )
    op.execute(
        "CREATE TRIGGER case_events_append_only BEFORE UPDATE OR DELETE ON case_events"
        " FOR EACH ROW EXECUTE FUNCTION case_events_append_only()"
    )
