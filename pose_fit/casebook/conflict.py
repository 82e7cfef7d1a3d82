"""Two people changed one case: the later one is told, and loses nothing."""

from pose_fit.casebook.case import Case
from pose_fit.casebook.events import Draft
from pose_fit.errors import CaseBookError

__all__ = ["CaseConflict"]


class CaseConflict(CaseBookError):  # noqa: N818 - a conflict is no fault of anybody
    """Somebody else changed the case first; nothing of either person's work is lost.

    Attributes
    ----------
    newer
        The case as it stands now, with the other person's work.
    draft
        What could not be applied; the book keeps it for its author.
    """

    def __init__(self, newer: Case, draft: Draft) -> None:
        self.newer = newer
        self.draft = draft
        super().__init__(
            f"case {newer.case_id} was changed in the meantime: version {draft.based_on} was at"
            f" hand, version {newer.version} is current; your draft is kept"
        )
